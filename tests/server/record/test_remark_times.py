"""The time of day that a remark is told with: of what it rests on, never of now."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.records import BEGAN, ZONE, Recording
from webapp.record.remark_times import as_at, as_at_words

DAY = BEGAN.date().isoformat()
WEIGHT = {"as": "55", "n": "55", "unit": "kg"}
GROUP = "approach.local_anaesthetic"


def moment(clock: str, day: str = DAY, certainty: str = "exact") -> dict[str, Any]:
    """Return a moment in UTC; the record's clocks are four hours behind it."""
    told = {"utc": f"{day}T{clock}:00.000Z", "zone": ZONE, "offset_min": -240}
    return {**told, "certainty": certainty, "clock": "wall"}


@pytest.fixture
def record() -> Recording:
    return Recording()


def given(record: Recording, **row: Any) -> str:
    return record.adds(GROUP, {"agent": "lidocaine", **row})


def told(record: Recording, *evidence: str, day: str = DAY) -> str:
    return as_at_words(as_at(record.case.fold, evidence), day)


def test_a_row_s_own_moment_is_told_as_its_clock_showed_it(record: Recording) -> None:
    assert told(record, given(record, moment=moment("18:10"))) == "As at 14:10."


def test_the_latest_of_several_is_told_whatever_their_order(record: Recording) -> None:
    ids = [given(record, moment=moment(c)) for c in ("18:10", "18:25", "18:20")]
    assert told(record, *ids) == "As at 14:25."


def test_without_an_own_moment_it_says_when_it_was_entered(record: Recording) -> None:
    assert told(record, record.says("patient.weight", WEIGHT)) == "As entered 03:00."


def test_what_was_typed_later_does_not_make_a_reading_later(record: Recording) -> None:
    reading = given(record, moment=moment("05:10"))
    weight = record.says("patient.weight", WEIGHT)
    assert told(record, reading, weight) == "As at 01:10."


def test_another_day_is_told_with_its_date(record: Recording) -> None:
    late = given(record, moment=moment("18:10"))
    assert told(record, late, day="2026-05-15") == "As at 14 May 2026 14:10."


def test_a_time_that_was_not_exact_stays_about(record: Recording) -> None:
    about = given(record, moment=moment("18:10", certainty="about"))
    assert told(record, about) == "As at about 14:10."


def test_an_answer_that_is_itself_a_moment_is_its_own_time(record: Recording) -> None:
    wire = record.wire({"removal.removed_at": moment("18:10")})
    [head] = record.case.fold["values"][f"wires/{wire}/removal.removed_at"]
    assert told(record, *head["entries"]) == "As at 14:10."


def test_a_day_without_clock_time_falls_back_to_the_entry(record: Recording) -> None:
    row = given(record, moment={"day": DAY, "certainty": "day"})
    assert told(record, row) == "As entered 03:00."


def test_no_evidence_and_a_broken_clock_give_no_time(record: Recording) -> None:
    row = record.says("patient.weight", WEIGHT)
    record.entries[-1].body["at"]["utc"] = "yesterday"
    assert told(record) == ""
    assert told(record, row) == ""
