"""What stands in no part: moments in the order of the clock, remarks, addenda."""

from __future__ import annotations

from tests.support.notes import made
from tests.support.records import ZONE, Recording
from webapp.clinical.policy import load
from webapp.note.blocks import Line, Rows
from webapp.note.moments import happened
from webapp.note.outside import outside_blocks
from webapp.note.sources import sources_of


def moment(time: str, certainty: str = "exact") -> dict:
    utc = f"2026-05-14T{time}:00.000Z"
    return {"utc": utc, "zone": ZONE, "offset_min": -240, "certainty": certainty,
            "clock": "wall"}  # fmt: skip


def told() -> Recording:
    record = Recording()
    record.says("approach.first_puncture", moment("07:10"))
    record.adds("moments", {"name": "decision", "moment": moment("07:01", "about")})
    record.says("finish.dressing_on", {"day": "2026-05-14", "certainty": "day"})
    return record


def test_moments_of_every_part_stand_in_the_order_of_the_clock() -> None:
    found = happened(told().case, "2026-05-14")
    assert [(h.label, h.words) for h in found] == [
        ("decision to pace", "about 03:01"),
        ("First puncture", "03:10"),
        ("Dressing on", "14 May 2026"),
    ]


def test_a_moment_not_known_is_no_moment() -> None:
    record = Recording()
    record.says("approach.first_puncture", {"absent": "not_known"})
    assert happened(record.case, "2026-05-14") == []


def test_two_answers_for_a_moment_are_both_in_the_list() -> None:
    record = Recording()
    record.says("approach.first_puncture", moment("07:10"))
    record.says("approach.first_puncture", moment("07:12"), by="nurse")
    assert [h.words for h in happened(record.case, "2026-05-14")] == ["03:10", "03:12"]


def test_times_are_listed_and_remarks_carry_their_name() -> None:
    record = told()
    record.adds("remarks.pads_still_pacing", {"answer": "seen_otherwise"})
    blocks = outside_blocks(sources_of(record.case, load()))
    assert [b.label for b in blocks if isinstance(b, Line)] == [
        "decision to pace",
        "First puncture",
        "Dressing on",
    ]
    assert [b.label for b in blocks if isinstance(b, Rows)] == [
        "Remark: pads still pacing"
    ]


def test_an_addendum_is_printed_with_its_kind() -> None:
    record = Recording()
    record.adds("addenda", {"kind": "late_entry", "text": "film seen on day two"})
    text = made(record.case).text
    assert "Added after signing" in text
    assert "Late entry" in text
    assert "film seen on day two" in text
