"""One test has one name, on page 1, in its drawing and in the table of its readings."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from tests.support.records import BEGAN, ZONE, Recording
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Part
from webapp.clinical.policy import load
from webapp.note import blocks
from webapp.note.parts import part_blocks
from webapp.note.sources import Sources, sources_of
from webapp.note.summary import summary

DAY = BEGAN.date().isoformat()


@pytest.fixture
def record() -> Recording:
    return Recording()


@pytest.fixture
def under(record: Recording) -> str:
    """Return the path of the record's one wire."""
    return f"wires/{record.wire({})}"


def moment(clock: str, day: str = DAY) -> dict[str, Any]:
    """Return a moment in UTC; the record's clocks are four hours behind it."""
    told = {"utc": f"{day}T{clock}:00.000Z", "zone": ZONE, "offset_min": -240}
    return {**told, "certainty": "exact", "clock": "wall"}


def once_tested(
    record: Recording, under: str, part: str, clock: str, day: str = DAY
) -> str:
    """Record one threshold test of one reading; return its id."""
    test = record.adds(f"{under}/{part}.threshold_test", {"kind": "full"})
    output = {"as": "2.0", "n": "2", "unit": "mA"}
    told = {"of": test, "output": output, "result": "captures"}
    row = {**told, "moment": moment(clock, day)}
    record.adds(f"{under}/{part}.output_reading", row)
    return test


def part_of(name: str) -> Part:
    part = CATALOGUE.part(name)
    assert part is not None
    return part


def sources(record: Recording) -> Sources:
    return sources_of(record.case, load())


def page_one(record: Recording) -> list[str]:
    [wire] = summary(sources(record)).wires
    return [test.caption.partition(": ")[0] for test in wire.tests]


def drawings(record: Recording, part: str) -> list[str]:
    found = part_blocks(sources(record), part_of(part))
    return [b.caption.partition(": ")[0] for b in found if isinstance(b, blocks.Tested)]


def table(record: Recording, part: str) -> list[str]:
    found = part_blocks(sources(record), part_of(part))
    tables = [block for block in found if isinstance(block, blocks.Rows)]
    readings = next(rows for rows in tables if "Dial called" in rows.columns)
    return [row[0].words for row in readings.rows]


def test_a_test_at_insertion_and_one_at_a_check_are_named_apart(
    record: Recording, under: str
) -> None:
    once_tested(record, under, "capture", "11:02")
    once_tested(record, under, "checks", "18:10")
    assert page_one(record) == [
        "Threshold test at insertion, 07:02",
        "Threshold test, pacing check 14:10",
    ]


def test_the_table_and_the_drawing_call_a_check_s_test_the_same(
    record: Recording, under: str
) -> None:
    once_tested(record, under, "checks", "18:10")
    told = "Threshold test, pacing check 14:10"
    assert drawings(record, "checks") == table(record, "checks") == [told]


def test_several_at_insertion_are_numbered(record: Recording, under: str) -> None:
    for clock in ("11:02", "11:20"):
        once_tested(record, under, "capture", clock)
    names = ["Threshold test 1 at insertion", "Threshold test 2 at insertion"]
    assert table(record, "capture") == names
    assert drawings(record, "capture") == [f"{names[0]}, 07:02", f"{names[1]}, 07:20"]


def test_two_at_one_minute_of_a_check_are_numbered(
    record: Recording, under: str
) -> None:
    for _ in range(2):
        once_tested(record, under, "checks", "18:10")
    told = [f"Threshold test {n}, pacing check 14:10" for n in (1, 2)]
    assert drawings(record, "checks") == table(record, "checks") == told


def test_a_check_of_another_day_is_named_with_its_date(
    record: Recording, under: str
) -> None:
    once_tested(record, under, "checks", "18:10", "2026-05-15")
    told = ["Threshold test, pacing check 15 May 2026 14:10"]
    assert drawings(record, "checks") == told


def test_a_struck_test_keeps_its_number(record: Recording, under: str) -> None:
    first = once_tested(record, under, "capture", "11:02")
    once_tested(record, under, "capture", "11:20")
    record.strikes(f"{under}/capture.threshold_test", first)
    assert drawings(record, "capture")[-1] == "Threshold test 2 at insertion, 07:20"


def test_no_two_tests_of_a_wire_have_one_name(record: Recording, under: str) -> None:
    places = itertools.product(("capture", "checks"), ("11:02", "11:02", "18:10"))
    for part, clock in places:
        once_tested(record, under, part, clock)
    names = table(record, "capture") + table(record, "checks")
    assert len(set(names)) == len(names) == 6
