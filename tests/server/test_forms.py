"""The forms made from the catalogue: what they hold, and that nothing else is added."""

from __future__ import annotations

import re
from typing import Any

import pytest
from flask import Flask, render_template_string

from tests.support.declared import fields_of, vectors
from tests.support.html import Page
from webapp import pages
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field, Part, Section
from webapp.forms import answer_form, part_form, shell_path

FIELDS = fields_of(vectors("kinds"))
PARTS = [pytest.param(part, id=part.name) for part in CATALOGUE.parts]
WHOLE = '{% from "forms/field.html" import part %}{{ part(of, form) }}'
DAY, ZONE = "2031-11-24", "Europe/Oslo"


@pytest.fixture(scope="module")
def app() -> Flask:
    """An application that renders forms and holds nothing else."""
    made = Flask("webapp")
    made.config["SECRET_KEY"] = "of the test"
    pages.register(made)
    return made


def shell_page(app, part: Part) -> Page:
    """Return one part as the shell renders it: no request, no session."""
    with app.app_context(), app.test_request_context():
        form = part_form(part)(formdata=None)
        return Page(render_template_string(WHOLE, of=part, form=form))


def answer_page(app, field: Field, value: Any) -> Page:
    """Return the workstation's form for one field, showing a value."""
    with app.test_request_context():
        form = answer_form("part.field", field, today=DAY, zone=ZONE, value=value)
        return Page(str(form.answer()))


def sent(app, field: Field, data: dict[str, Any]) -> Any:
    """Return the form after a person sent `data` from the workstation."""
    with app.test_request_context(method="POST", data=data):
        form = answer_form("part.field", field, today=DAY, zone=ZONE)
        del form.csrf_token
        form.was_valid = form.validate_on_submit()
        return form


@pytest.mark.parametrize("part", PARTS)
def test_every_field_of_a_part_stands_once_in_page_order(app, part: Part) -> None:
    page = shell_page(app, part)
    places = [tag for tag in page.tags if tag.has_class("field", "group")]
    paths = [t["data-path"] for t in places if "data-child" not in t]
    assert paths == [shell_path(part, field) for field in part.fields()]


@pytest.mark.parametrize("part", PARTS)
def test_a_group_holds_its_children_in_a_template(app, part: Part) -> None:
    page = shell_page(app, part)
    for field in part.fields():
        path = shell_path(part, field)
        inside = [
            t["data-child"]
            for t in page.tags
            if t.get("data-path") == path and "data-child" in t
        ]
        assert inside == [child.name for child in field.children]
    rows = [t for t in page.tags if "data-child" in t]
    assert all(t.is_inside("template") for t in rows)


@pytest.mark.parametrize("part", PARTS)
def test_every_field_of_every_kind_takes_the_three_absences(app, part: Part) -> None:
    page = shell_page(app, part)
    radios: dict[str, list[str]] = {}
    for tag in page.tags:
        if tag.get("name", "").endswith(".absent"):
            radios.setdefault(tag["name"], []).append(tag["value"])
    wanted = [shell_path(part, f) for f in part.fields()]
    wanted += [
        f"{shell_path(part, f)}.__row__.{c.name}"
        for f in part.fields()
        for c in f.children
    ]
    assert sorted(radios) == sorted(f"{name}.absent" for name in wanted)
    assert set(map(tuple, radios.values())) == {("not_known", "not_done", "not_asked")}


@pytest.mark.parametrize("part", PARTS)
def test_no_control_is_a_number_input_or_offers_old_entries(app, part: Part) -> None:
    # A native number input turns 1,5 into 15; the browser's memory would offer the
    # last patient's name.
    for tag in shell_page(app, part).tags:
        assert tag.get("type") != "number"
        assert "maxlength" not in tag
        if tag.name in ("input", "textarea") and tag.get("type", "text") == "text":
            assert tag.get("autocomplete") == "off"


@pytest.mark.parametrize("part", PARTS)
def test_every_control_of_a_part_has_a_name_for_a_screen_reader(
    app, part: Part
) -> None:
    page = shell_page(app, part)
    ids = {t["id"] for t in page.tags if "id" in t}
    for tag in page.tags:
        if tag.name not in ("input", "textarea", "select", "canvas"):
            continue
        if tag.get("type") in ("hidden", "radio", "checkbox"):
            assert tag.get("type") == "hidden" or tag.is_inside("label")
            continue
        named_by = tag.get("aria-labelledby")
        assert tag.get("aria-label") or named_by in ids, tag.attributes


@pytest.mark.parametrize("part", PARTS)
def test_no_id_stands_twice_in_a_part(app, part: Part) -> None:
    ids = [t["id"] for t in shell_page(app, part).tags if "id" in t]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("part", PARTS)
def test_a_form_of_the_shell_holds_no_token(app, part: Part) -> None:
    assert "csrf" not in shell_page(app, part).html


def test_the_form_of_the_workstation_holds_a_token(app) -> None:
    with app.test_request_context():
        form = answer_form("patient.weight", CATALOGUE.field("patient.weight"))
        assert "csrf_token" in form.hidden_tag()


def test_a_field_that_the_form_library_needs_for_itself_is_refused(app) -> None:
    part = Part("odd", "Odd", (Section("", (Field("data", "Data", "text"),)),))
    with pytest.raises(ValueError, match=r"odd\.data"):
        part_form(part)


def test_several_units_offer_none_before_one_is_said(app) -> None:
    page = answer_page(app, FIELDS["printed_potassium"], None)
    units = [t for t in page.tags if t.name == "option"]
    assert [t["value"] for t in units] == ["", "mmol/L", "mg/dL"]
    assert not any("selected" in t for t in units)


# What a person sends from the controls, and the value that is; written by hand.
EXACT = {
    "utc": "2031-11-24T09:41:00.000Z",
    "zone": ZONE,
    "offset_min": 60,
    "certainty": "exact",
    "clock": "wall",
}
SENT: list[tuple[str, dict[str, Any], Any]] = [
    ("output", {}, None),
    ("output", {"answer": "", "answer.unit": "mA"}, None),
    (
        "output",
        {"answer": "1,5", "answer.unit": "mA"},
        {"as": "1,5", "n": "1.5", "unit": "mA"},
    ),
    ("output", {"answer": "abc", "answer.unit": "mA"}, {"as": "abc", "unit": "mA"}),
    (
        "printed_potassium",
        {"answer": "7.3", "answer.unit": ""},
        {"as": "7.3", "n": "7.3", "unit": ""},
    ),
    (
        "printed_potassium",
        {"answer": "7.3", "answer.unit": "mg/dL"},
        {"as": "7.3", "n": "7.3", "unit": "mg/dL"},
    ),
    ("output", {"answer.absent": "not_known"}, {"absent": "not_known"}),
    (
        "output",
        {"answer": "1.5", "answer.absent": "not_asked"},
        {"absent": "not_asked"},
    ),
    (
        "output",
        {"answer.absent": "not_known", "answer.not_stated_by": "crew report"},
        {"absent": "not_known", "not_stated_by": "crew report"},
    ),
    (
        "output",
        {"answer.not_stated_by": "crew report"},
        {"absent": "not_known", "not_stated_by": "crew report"},
    ),
    (
        "output",
        {"answer.absent": "not_done", "answer.because": " no time "},
        {"absent": "not_done", "because": "no time"},
    ),
    ("output", {"answer.absent": "not_done"}, {"absent": "not_done"}),
    (
        "output",
        {"answer": "2", "answer.unit": "mA", "answer.because": "no time"},
        {"as": "2", "n": "2", "unit": "mA"},
    ),
    ("pads_ready", {"answer": "yes"}, "yes"),
    ("pads_ready", {}, None),
    ("site", {"answer": "ij_right"}, "ij_right"),
    (
        "site",
        {"answer": "other", "answer.other": "transhepatic"},
        {"other": "transhepatic"},
    ),
    ("site", {"answer": "other"}, "other"),
    ("site", {"answer": "ij_right", "answer.other": "left over"}, "ij_right"),
    (
        "capacity",
        {"answer": "lacks", "answer.other.lacks": "obtunded"},
        {"lacks": "obtunded"},
    ),
    ("allergies", {"answer": ["latex", "iodine"]}, ["latex", "iodine"]),
    (
        "allergies",
        {"answer": ["latex", "other"], "answer.other": "plasters"},
        ["latex", {"other": "plasters"}],
    ),
    ("allergies", {"answer": []}, None),
    ("family_name", {"answer": "  Żółć "}, "Żółć"),
    ("family_name", {"answer": "   "}, None),
    ("note", {"answer": "a\r\nb"}, "a\nb"),
    ("born", {"answer": "3.2.54"}, {"as": "3.2.54", "date": "1954-02-03"}),
    ("born", {"answer": "31.2.54"}, {"as": "31.2.54"}),
    ("puncture", {"answer.day": "", "answer.time": ""}, None),
    ("puncture", {"answer.time": "10:41"}, EXACT),
    ("puncture", {"answer.time": "1041", "answer.clock": "wall"}, EXACT),
    (
        "puncture",
        {
            "answer.day": "24 Nov 2031",
            "answer.time": "10:41",
            "answer.certainty": "about",
            "answer.clock": "tablet",
        },
        {**EXACT, "certainty": "about", "clock": "tablet"},
    ),
    (
        "puncture",
        {"answer.day": "24.11.2031", "answer.certainty": "about"},
        {"day": "2031-11-24", "certainty": "day"},
    ),
    (
        "puncture",
        {"answer.day": "second day", "answer.time": "noon"},
        {"as": "second day noon", "certainty": "unreadable"},
    ),
    (
        "operator",
        {"answer": "E. Tarn-Example", "answer.role": "operator"},
        {
            "person": None,
            "name": "E. Tarn-Example",
            "role": "operator",
            "credential": "",
        },
    ),
    ("operator", {"answer.role": "operator"}, None),
    (
        "signature",
        {"answer": '{"width":600,"height":200,"strokes":[[[1,2]]]}'},
        {"width": 600, "height": 200, "strokes": [[[1, 2]]]},
    ),
    ("signature", {"answer": ""}, None),
    (
        "drugs_given",
        {
            "answer.drug": "atropine",
            "answer.dose.absent": "not_known",
            "answer.dose.not_stated_by": "crew report",
            "answer.moment.time": "10:41",
        },
        {
            "drug": "atropine",
            "dose": {"absent": "not_known", "not_stated_by": "crew report"},
            "moment": EXACT,
        },
    ),
    ("drugs_given", {}, None),
    ("drugs_given", {"answer.absent": "not_known"}, {"absent": "not_known"}),
]


@pytest.mark.parametrize(
    ("key", "data", "value"), SENT, ids=[f"{i}-{s[0]}" for i, s in enumerate(SENT)]
)
def test_the_controls_together_say_the_value(
    app, key: str, data: dict[str, Any], value: Any
) -> None:
    form = sent(app, FIELDS[key], data)
    assert form.answer.data == value
    assert form.was_valid, form.errors


ILLEGAL: list[tuple[str, dict[str, Any]]] = [
    ("pads_ready", {"answer": "maybe"}),
    ("site", {"answer": "nowhere"}),
    ("allergies", {"answer": ["latex", "nothing"]}),
    ("output", {"answer.absent": "never"}),
    ("signature", {"answer": "data:,"}),
    ("signature", {"answer": "[" * 9000}),
    ("image", {"answer": '{"size":1}'}),
    ("image", {"answer": '{"size":NaN}'}),
    ("operator", {"answer": "x", "answer.person": "1"}),
    (
        "puncture",
        {"answer.time": "10:41", "answer.clock": "phone"},
    ),
    ("drugs_given", {"answer.route": "oral"}),
]


@pytest.mark.parametrize(
    ("key", "data"), ILLEGAL, ids=[f"{i}-{s[0]}" for i, s in enumerate(ILLEGAL)]
)
def test_what_is_not_of_the_kind_is_refused_with_a_word(
    app, key: str, data: dict[str, Any]
) -> None:
    form = sent(app, FIELDS[key], data)
    assert not form.was_valid
    assert FIELDS[key].label in form.errors["answer"][0] or key == "drugs_given"


def test_an_impossible_value_is_taken_and_marked(app) -> None:
    form = sent(app, FIELDS["output"], {"answer": "26", "answer.unit": "mA"})
    assert form.was_valid
    assert form.answer.verdict.state == "impossible"
    assert form.answer.state == "impossible"
    assert "above" in form.answer.messages[0]


SHOWN = [
    row
    for row in vectors("kinds")["check"]
    if row["state"] in ("ok", "soft", "absent", "impossible")
    and FIELDS[row["field"]].kind != "group"
]
# Values no control could have sent: their text or unit says something else, a part of
# a person is missing, blanks stand round a reason, choices out of the list's order.
ODD = ("contradicts_typed", "unit_unknown", "because_missing", "control_characters")


def is_sendable(row: dict[str, Any]) -> bool:
    """Tell whether a form that shows the value would send the same one back."""
    field, value = FIELDS[row["field"]], row["value"]
    if set(row["codes"]) & set(ODD):
        return False
    if field.kind == "person":
        return "absent" in value or len(value) == 4
    if field.kind == "many" and isinstance(value, list):
        codes = [choice.code for choice in field.choices]
        order = [codes.index(c if isinstance(c, str) else next(iter(c))) for c in value]
        return order == sorted(order)
    if not isinstance(value, dict) or "absent" in value:
        return True
    if field.kind == "qty":
        one_unit = len(field.units) == 1
        return value["as"] != "three" and (value["unit"] != "" or not one_unit)
    return value.get("as") not in ("x", "third of February")


@pytest.mark.parametrize("row", [r for r in SHOWN if is_sendable(r)], ids=repr)
def test_a_shown_value_left_alone_is_sent_back_unchanged(
    app, row: dict[str, Any]
) -> None:
    field = FIELDS[row["field"]]
    page = answer_page(app, field, row["value"])
    assert sent(app, field, page.controls()).answer.data == row["value"]


@pytest.mark.parametrize(
    "text",
    ["<b>Ó'Brien & Søn</b>", '"><script>alert(1)</script>', "a" * 2000, "{{ 7 * 7 }}"],
)
def test_hostile_text_stands_as_typed_in_its_box_and_nowhere_else(
    app, text: str
) -> None:
    page = answer_page(app, FIELDS["family_name"], text)
    (box,) = [t for t in page.tags if t.get("name") == "answer"]
    assert box["value"] == text
    assert not [t for t in page.tags if t.name in ("b", "script")]


def test_prose_keeps_a_leading_newline(app) -> None:
    page = answer_page(app, FIELDS["note"], "a\n\nb")
    assert page.controls()["answer"] == ["a\n\nb"]


def test_a_row_on_the_workstation_is_open_and_has_no_place_holder(app) -> None:
    page = answer_page(app, FIELDS["drugs_given"], None)
    assert "__row__" not in page.html
    assert not [t for t in page.tags if t.name == "template"]
    assert re.search(r'name="answer\.drug"', page.html)
