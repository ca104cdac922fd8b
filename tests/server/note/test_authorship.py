"""Who entered what, and whose clock was off."""

from __future__ import annotations

from tests.support.notes import made, note_of
from tests.support.records import Recording
from webapp.clinical.policy import load
from webapp.note.authorship import authorship_blocks
from webapp.note.blocks import Line
from webapp.note.sources import sources_of
from webapp.record.case import Case


def lines(case: Case) -> list[tuple[str, str]]:
    blocks = authorship_blocks(note_of(case), sources_of(case, load()))
    return [(b.label, b.said[0].words) for b in blocks if isinstance(b, Line)]


def test_entries_called_out_by_another_are_counted_apart() -> None:
    record = Recording(by="nurse")
    record.says("patient.alias", "x", called_by="operator")
    record.says("patient.sex", "male")
    assert lines(record.case) == [
        (
            "K. Ouse-Example (nurse)",
            "14 May 2026, 03:00 to 03:00; entries: 1, as E. Tarn-Example called them"
            " out; name as chosen or typed, not proven",
        ),
        (
            "K. Ouse-Example (nurse)",
            "14 May 2026, 03:00 to 03:00; entries: 1; name as chosen or typed,"
            " not proven",
        ),
    ]


def test_a_clock_off_by_more_than_two_minutes_is_told() -> None:
    record = Recording()
    record.says("patient.sex", "male")
    record.entries[0].body["at"]["skew_ms"] = 185_000
    told = dict(lines(record.case))
    assert "up to 3 min ahead of the server's" in told["Clock"]


def test_a_clock_off_by_less_is_not() -> None:
    record = Recording()
    record.says("patient.sex", "male")
    record.entries[0].body["at"]["skew_ms"] = -90_000
    assert "Clock" not in dict(lines(record.case))


def test_an_empty_record_names_nobody() -> None:
    assert lines(Recording().case) == []
    assert "Who made the entries" not in made(Recording().case).text
