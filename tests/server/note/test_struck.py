"""Struck rows stand as struck, and are drawn and computed nowhere else."""

from __future__ import annotations

from tests.support.notes import made
from tests.support.records import Recording
from webapp.clinical.policy import load
from webapp.note.blocks import Line
from webapp.note.sources import sources_of
from webapp.note.struck import struck_blocks


def recorded() -> tuple[Recording, str, str]:
    record = Recording()
    wire = record.wire({})
    path = f"wires/{wire}/advance.depth_reading"
    depth = {"as": "43", "n": "43", "unit": "cm"}
    row = record.adds(path, {"depth": depth, "result": "rv_contact"})
    return record, path, row


def test_a_struck_reading_is_listed_with_its_reason_and_who_struck_it() -> None:
    record, path, row = recorded()
    record.strikes(path, row, "called wrongly")
    (line,) = [
        b for b in struck_blocks(sources_of(record.case, load())) if isinstance(b, Line)
    ]
    assert line.label == "Depth reading"
    assert "43 cm" in line.said[0].words
    assert line.said[1].words == "struck, because: called wrongly"
    assert line.said[1].who == "03:00 ET · 3"


def test_a_struck_reading_is_neither_drawn_nor_in_its_part() -> None:
    record, path, row = recorded()
    record.strikes(path, row)
    text = made(record.case).text
    assert "Entered in error" in text
    assert "no depth read" in text
    assert text.count("43 cm") == 1


def test_a_row_brought_back_is_not_in_the_list() -> None:
    record, path, row = recorded()
    strike = record.strikes(path, row)
    record.strikes(path, strike)
    assert struck_blocks(sources_of(record.case, load())) == []
    assert "43 cm" in made(record.case).text


def test_a_strike_without_a_reason_says_that_none_was_given() -> None:
    record, path, row = recorded()
    record.strikes(path, row, reason=None)
    assert "struck, because: not said" in made(record.case).text
