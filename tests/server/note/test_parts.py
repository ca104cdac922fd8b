"""Every answer is printed, as what it is; what nobody asked is not printed as no."""

from __future__ import annotations

import pytest

from tests.support.notes import made, made_from, quantity, squeezed, told_case
from tests.support.records import Recording
from webapp.catalogue import CATALOGUE
from webapp.catalogue.words import words
from webapp.clinical.policy import load
from webapp.note.blocks import Heading, Line, Rows, Sketch
from webapp.note.casewords import main_day
from webapp.note.parts import part_blocks
from webapp.note.sources import sources_of
from webapp.record.case import Case

PARTS = [part.name for part in CATALOGUE.parts]


def blocks(case: Case, part: str) -> list:
    return part_blocks(sources_of(case, load()), CATALOGUE.part(part))


def lines(case: Case, part: str) -> dict[str, Line]:
    return {b.label: b for b in blocks(case, part) if isinstance(b, Line)}


@pytest.mark.parametrize("name", ["demo/1-clean-emergency", "published/CR-01"])
def test_every_answer_and_every_row_of_a_record_is_in_print(name: str) -> None:
    case = told_case(name)
    letters = made_from(name).letters
    day = main_day(case)
    for path, heads in case.fold["values"].items():
        field = CATALOGUE.field(path)
        for head in heads:
            told = words(field, head["value"], day)
            assert squeezed(told) in letters, (path, told)
    for path, rows in case.fold["rows"].items():
        field = CATALOGUE.field(path)
        for row in rows:
            for child in field.children:
                if child.name in row["value"]:
                    told = words(child, row["value"][child.name], day)
                    assert squeezed(told) in letters, (path, told)


@pytest.mark.parametrize("part", PARTS)
def test_a_part_holds_only_fields_somebody_answered(part: str) -> None:
    record = Recording()
    record.wire({"capture.electrical_capture": "yes"})
    record.says("indication.caution_bleeding_tendency", "no")
    found = {b.label for b in blocks(record.case, part) if isinstance(b, Line)}
    answered = {"capture": {"Electrical capture"}, "indication": {"Bleeding tendency"}}
    assert found == answered.get(part, set())


def test_not_asked_not_known_not_done_and_no_are_four_prints() -> None:
    """ux.md section 4, rule 21."""
    record = Recording()
    record.says("indication.caution_heart_transplant", "no")
    record.says("indication.caution_permanent_leads", {"absent": "not_known"})
    because = {"absent": "not_done", "because": "no time"}
    record.says("indication.caution_bleeding_tendency", because)
    record.says("indication.caution_thrombolysis", {"absent": "not_asked"})
    told = {k: v.said[0].words for k, v in lines(record.case, "indication").items()}
    assert told == {
        "Heart transplant": "no",
        "Permanent leads": "not known",
        "Bleeding tendency": "not done, because no time",
        "Thrombolysis": "not asked",
    }
    assert "Vena cava filter" in made(record.case).text.split("Needed and not asked")[1]


def test_not_stated_names_the_report_that_did_not_say() -> None:
    record = Recording()
    told = {"absent": "not_known", "not_stated_by": "crew report"}
    record.wire({"approach.site": told})
    assert "not stated by crew report" in made(record.case).text


def test_two_answers_are_both_printed_with_who_gave_them() -> None:
    record = Recording()
    record.says("patient.weight", quantity("64", "kg"))
    record.says("patient.weight", quantity("46", "kg"), by="nurse")
    said = lines(record.case, "patient")["Weight"].said
    assert [s.words for s in said] == ["64\u00a0kg", "46\u00a0kg"]
    assert {s.mark for s in said} == {"two_answers"}
    assert "ET" in said[0].who
    assert "KO" in said[1].who
    text = made(record.case).text
    assert "two answers – 64 kg" in text
    assert "Weight: 64 kg (03:00 E. Tarn-Example) or 46 kg" in text


def test_an_impossible_value_is_printed_as_typed_and_marked() -> None:
    record = Recording()
    record.says("patient.height", quantity("340", "cm"))
    assert lines(record.case, "patient")["Height"].said[0].mark == "impossible"
    assert "340 cm [impossible, kept as typed, not used]" in made(record.case).text


def test_an_impossible_value_in_a_row_is_marked_where_it_stands() -> None:
    record = Recording()
    wire = record.wire({})
    path = f"wires/{wire}/advance.depth_reading"
    record.adds(path, {"depth": quantity("340", "cm"), "result": "rv_contact"})
    rows = next(b for b in blocks(record.case, "advance") if isinstance(b, Rows))
    assert rows.rows[0][0].mark == "impossible"


def test_rows_of_a_row_name_the_row_they_belong_to() -> None:
    record = Recording()
    wire = record.wire({})
    under = f"wires/{wire}/capture"
    first = record.adds(f"{under}.threshold_test", {"kind": "full"})
    second = record.adds(f"{under}.threshold_test", {"kind": "full"})
    for test, output in ((first, "2.0"), (second, "1.0")):
        told = {"of": test, "output": quantity(output, "mA"), "result": "captures"}
        record.adds(f"{under}.output_reading", told)
    rows = [b for b in blocks(record.case, "capture") if isinstance(b, Rows)]
    readings = next(r for r in rows if "Dial called" in r.columns)
    assert [row[0].words for row in readings.rows] == [
        "Threshold test 1 at insertion",
        "Threshold test 2 at insertion",
    ]


def test_each_wire_has_its_own_run_of_fields_under_its_name() -> None:
    record = Recording()
    record.wire({"approach.wire_name": "Wire 1, right neck", "approach.chamber": "rv"})
    record.wire({"approach.wire_name": "Wire 2, left groin", "approach.chamber": "ra"})
    names = [b.words for b in blocks(record.case, "approach") if isinstance(b, Heading)]
    assert names == ["Approach", "Wire 1, right neck", "Wire 2, left groin"]


def test_one_wire_alone_is_not_named_again_above_its_fields() -> None:
    record = Recording()
    record.wire({"approach.chamber": "rv"})
    names = [b.words for b in blocks(record.case, "approach") if isinstance(b, Heading)]
    assert names == ["Approach", "This wire"]


def test_a_signature_is_drawn_and_not_told_as_a_word() -> None:
    record = Recording()
    strokes = [[[1, 1], [50, 20]], [[9, 9]]]
    drawing = {"width": 600, "height": 200, "strokes": strokes}
    record.says("consent.signature", drawing)
    sketch = next(b for b in blocks(record.case, "consent") if isinstance(b, Sketch))
    assert sketch.drawing == drawing


def test_an_empty_part_has_no_heading() -> None:
    assert [blocks(Recording().case, part) for part in PARTS] == [[]] * len(PARTS)


def test_who_called_it_out_stands_beside_who_entered_it() -> None:
    record = Recording(by="nurse")
    record.says("patient.alias", "Harbour man", called_by="operator")
    assert lines(record.case, "patient")["Working name"].said[0].who == (
        "03:00 KO for ET · 1"
    )


def test_what_was_told_or_copied_says_so() -> None:
    record = Recording()
    record.says("patient.alias", "Harbour man", source="told")
    who = lines(record.case, "patient")["Working name"].said[0].who
    assert who == "03:00 ET, as told · 1"
