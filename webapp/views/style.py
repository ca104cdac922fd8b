"""The style page: every component in every state, from the product's own templates.

Open to anybody and the same for everybody: it holds no data. The tablet's shell does
not keep it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from types import SimpleNamespace
from typing import Any

from flask import Blueprint, render_template

from webapp.catalogue import CATALOGUE
from webapp.clinical.found import Found
from webapp.clinical.remarks import Remark, Weight, finding, weight_word
from webapp.forms import AnswerField, ShellForm, shell_path
from webapp.record.case import Case
from webapp.record.fold import fold
from webapp.record.page import Line, Option, RowLine, Said
from webapp.record.questions import Question, Why
from webapp.record.remark_times import AsAt, as_at_words
from webapp.record.remarked import Given, Remarked, answer_words
from webapp.say import SAY

bp = Blueprint("style", __name__)

# Which fields stand for which component; style-case.js says what each of them says.
SHOWN = {
    "choices": (
        "patient.identity_known patient.on_blood_thinner patient.start"
        " indication.urgency indication.main_rhythm patient.allergies"
    ),
    "quantities": (
        "indication.escape_rate patient.weight patient.temperature patient.height"
        " indication.qtc patient.pregnancy_weeks"
    ),
    "absence": (
        "patient.estimated_age patient.encounter_number indication.pr"
        " patient.gestation patient.sex"
    ),
    "moments": (
        "approach.first_puncture patient.wristband_read consent.sought_at"
        " consent.signature_at"
    ),
    "fields": (
        "patient.family_name patient.given_name patient.alias patient.birth_date"
        " indication.stated_by indication.why_now consent.signature"
        " approach.image_photo"
    ),
    "rows": "indication.pads patient.people patient.laboratory indication.drugs_given",
}
STATES: tuple[tuple[str, str, Why | None], ...] = (
    ("answered", "Internal jugular, right", None),
    ("not_asked", "not asked", "not_asked"),
    ("not_known", "not known", None),
    ("not_done", "not done, because the kit holds none", None),
    ("impossible", "340 cm", "impossible"),
    ("two_answers", "1 or 2", "two_answers"),
)
WHO = Said(
    author="E. Tarn-Example",
    role="operator",
    entered_by="",
    utc="2031-11-24T10:41:00.000Z",
    how="typed",
)
READ = AsAt({"utc": WHO.utc, "offset_min": 0, "certainty": "exact"}, True)
# Weight, whether it still stands, and what was answered.
REMARKS: tuple[tuple[Weight, bool, tuple[Given, ...]], ...] = (
    ("look_now", True, ()),
    ("look_again", True, (Given("", "Seen, chose otherwise", "clear on the strip"),)),
    ("look_again", False, ()),
    ("fits", True, ()),
)


@bp.get("/style")
def index() -> str:
    """Show the page."""
    form = _form()
    return render_template(
        "style/index.html",
        form=form(formdata=None),
        shown={name: paths.split() for name, paths in SHOWN.items()},
        lines=_lines(),
        found=SimpleNamespace(id="style", case=Case(fold([]), CATALOGUE)),
        may_write=False,
        said_of=lambda _: WHO,
        answer_words=answer_words,
        as_at_words=partial(as_at_words, day="2031-11-24"),
    )


def _form() -> type[ShellForm]:
    fields: dict[str, Any] = {}
    for path in " ".join(SHOWN.values()).split():
        part_name, _, _name = path.partition(".")
        part, field = CATALOGUE.part(part_name), CATALOGUE.field(path)
        if part is None or field is None:
            raise LookupError(f"the catalogue has no {path}")
        at = shell_path(part, field)
        fields[path.replace(".", "_")] = AnswerField(field, at, html_name=at)
    return type("StyleForm", (ShellForm,), fields)


def _lines() -> list[Line]:
    blank = Line("style.line", "", "text", "", "", (), (WHO,), (), None, (), "")
    keys = tuple(Option(word, word) for word in ("1", "2"))
    made = [
        replace(
            blank,
            path=f"style.{state}",
            label=state.replace("_", " "),
            state=state,
            words=words,
            heads=keys if state == "two_answers" else (),
            question=why and Question("style.line", "style", state, why, ""),
        )
        for state, words, why in STATES
    ]
    cells = (("Depth", "34 cm"), ("Result", "RV contact (ST up)"))
    rows = tuple(
        RowLine(f"style-row-{at}", cells, WHO, why, why and "K. Ouse-Example", "")
        for at, why in enumerate((None, "another patient's strip"))
    )
    remarks = tuple(_remark(*state) for state in REMARKS)
    return [
        *made,
        replace(blank, path="style.rows", label="rows", rows=rows),
        replace(blank, path="style.remarks", label="remarks", remarks=remarks),
    ]


def _remark(weight: Weight, stands: bool, given: tuple[Given, ...]) -> Remarked:
    """Return a remark of this weight, in words of the product's own."""
    values = {"low": "1.0", "high": "1.4", "unit": "mA"}
    remark = Remark("bracket_wide", weight, values)
    found = Found(remark, "style.remarks", stands=stands)
    told = finding(remark, SAY)
    word = weight_word(remark, SAY)
    return Remarked(found, "", "", word, told, "", "", "", given, READ)
