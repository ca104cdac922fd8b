"""From the catalogue to HTML forms: one field class, its only validator `kinds.check`.

`part_form` makes the forms of the tablet's shell (kept by the worker, hence without
a token); `answer_form` the workstation's form for one field, with a token. The HTML
is in `templates/forms/field.html`.
"""

from __future__ import annotations

import json
from typing import Any

from flask import get_template_attribute
from flask_wtf import FlaskForm
from markupsafe import Markup
from wtforms import Field as WTField
from wtforms.utils import unset_value
from wtforms.validators import ValidationError

from webapp.catalogue.kinds import check
from webapp.catalogue.model import Field, Part
from webapp.catalogue.units import shown_unit
from webapp.catalogue.verdicts import Verdict
from webapp.controls import Posted, Setting, read, show

# Stands in the names and ids of a row's controls until a row is opened.
ROW = "__row__"
ANYTIME = Setting()


def _by_kind(_form: FlaskForm, field: AnswerField) -> None:
    """Judge the value; only what is not of the kind is refused.

    Soft and impossible values pass: they are kept, marked and shown.
    """
    if field.data is None:
        return
    field.verdict = check(field.declared, field.data, today=field.setting.today)
    if field.verdict.state == "illegal":
        raise ValidationError(" ".join(p.message for p in field.verdict.problems))


def _as_html(field: AnswerField, **_: object) -> Markup:
    rendered: Markup = get_template_attribute("forms/field.html", "field")(field)
    return rendered


class AnswerField(WTField):  # type: ignore[misc]  # the library has no types
    """One field of the catalogue with all its controls, absences included.

    `data`: the JSON value, None while nothing was said; `verdict`: set by validation;
    `path`: the record's path, with "*" for the wire in the shell; `children`: a
    group's fields, of a row still to be opened in the shell, of the row otherwise.
    """

    widget = staticmethod(_as_html)

    def __init__(
        self,
        declared: Field,
        path: str,
        setting: Setting = ANYTIME,
        html_name: str = "",
        **kwargs: Any,
    ) -> None:
        super().__init__(declared.label, [_by_kind], **kwargs)
        self.declared, self.path, self.setting = declared, path, setting
        self.verdict: Verdict | None = None
        if html_name:
            self.name = self.id = html_name
        self.is_in_shell = not self.meta.csrf
        self.children = [self._child(child) for child in declared.children]

    def _child(self, child: Field) -> AnswerField:
        row = f"{self.name}.{ROW}" if self.is_in_shell else self.name
        name = f"{row}.{child.name}"
        unbound = AnswerField(child, self.path, self.setting, html_name=name)
        bound: AnswerField = unbound.bind(form=None, name=child.name, _meta=self.meta)
        return bound

    def process(
        self, formdata: Any, data: Any = unset_value, extra_filters: Any = None
    ) -> None:
        """Take the value from the controls of a sent form, else from `data`."""
        self.process_errors: list[str] = []
        self.object_data = self.data = None if data is unset_value else data
        if formdata is not None:
            posted = Posted(formdata.getlist, self.name)
            self.data = read(self.declared, posted, self.setting)
        row = self.data if isinstance(self.data, dict) else {}
        for child in self.children:
            child.process(formdata, row.get(child.declared.name))

    def control(self, suffix: str = "") -> str:
        """Return what the control with this suffix shows, "" for nothing."""
        return next(iter(self._shown.get(suffix, [])), "")

    def chosen(self) -> list[str]:
        """Return the codes of the choices that are shown as chosen."""
        return self._shown.get("", [])

    @property
    def units(self) -> list[tuple[str, str]]:
        """Return the units to choose from, each as its code and as shown."""
        return [(unit, shown_unit(unit)) for unit in self.declared.units]

    @property
    def _shown(self) -> dict[str, list[str]]:
        return show(self.declared, self.data)

    @property
    def state(self) -> str:
        """Return how the shown value stands: not_asked, ok, soft, not_known …"""
        if self.data is None:
            return "not_asked"
        verdict = check(self.declared, self.data, today=self.setting.today)
        return str(self.data["absent"]) if verdict.state == "absent" else verdict.state

    @property
    def messages(self) -> list[str]:
        """Return what there is to say about the shown value."""
        if self.data is None:
            return []
        verdict = check(self.declared, self.data, today=self.setting.today)
        return [problem.message for problem in verdict.problems]

    @property
    def condition(self) -> str:
        """Return the condition under which the field is asked, as JSON, or ""."""
        asked_when = self.declared.asked_when
        return "" if asked_when is None else json.dumps(asked_when)


class ShellForm(FlaskForm):  # type: ignore[misc]  # the library has no types
    """A form of the tablet's shell: no session, so no token."""

    class Meta:
        """Settings the form library reads."""

        csrf = False


def shell_path(part: Part, field: Field) -> str:
    """Return the path of a field in the shell: "*" where the wire's id will stand."""
    path = f"{part.name}.{field.name}"
    return f"wires/*/{path}" if field.per_wire else path


def part_form(part: Part) -> type[FlaskForm]:
    """Make the form of one part: an `AnswerField` for each field, under its name.

    Its controls are named by path. Raises ValueError: when a field's name is one the
    form library needs for itself.
    """
    fields: dict[str, AnswerField] = {}
    for field in part.fields():
        if hasattr(ShellForm, field.name) or field.name in ("data", "errors", "meta"):
            raise ValueError(f"{part.name}.{field.name}: a form cannot have that name")
        path = shell_path(part, field)
        fields[field.name] = AnswerField(field, path, html_name=path)
    return type(f"{part.name.title()}Form", (ShellForm,), fields)


def answer_form(
    path: str,
    field: Field,
    *,
    today: object = None,
    zone: str | None = None,
    value: Any = None,
) -> FlaskForm:
    """Make the workstation's form for one field; its answer is `form.answer.data`.

    `today`: the local day, a date or "2031-11-24"; `zone`: whose wall clock typed
    times mean; `value`: what is shown until something is sent. Needs a request.
    """
    setting = Setting(None if today is None else str(today), zone)
    answer = AnswerField(field, path, setting)
    return type("AnswerForm", (FlaskForm,), {"answer": answer})(answer=value)


def added_form(
    group: Field, names: tuple[str, ...], *, today: object, zone: str
) -> FlaskForm:
    """Make a workstation's form of some fields of a group, each under its own name.

    Their answers are `form[name].data`, None where nothing was said. Needs a request.
    """
    setting = Setting(str(today), zone)
    fields = {
        child.name: AnswerField(child, f"{group.name}.{child.name}", setting)
        for child in group.children
        if child.name in names
    }
    return type("AddedForm", (FlaskForm,), fields)()
