"""Times as the hospital's clock showed them; who said what when."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from webapp.note.times import entry_time, full_words, who_when


def meta(**changed: Any) -> dict[str, Any]:
    at = {"utc": "2031-11-24T09:41:07.123Z", "zone": "Europe/Oslo", "offset_min": 60,
          "skew_ms": 0}  # fmt: skip
    person = {"person": None, "name": "N. Ness-Example", "role": "assistant"}
    told = {"at": {**at, **changed.pop("at", {})}, "author": person,
            "entered_by": person, "called_by": None, "source": "seen"}  # fmt: skip
    return {**told, **changed}


@pytest.mark.parametrize(
    ("at", "clock"),
    [
        ({}, "10:41"),
        ({"skew_ms": 180_000}, "10:38"),
        ({"skew_ms": -180_000}, "10:44"),
        ({"skew_ms": None}, "10:41"),
        ({"offset_min": None}, "09:41"),
    ],
    ids=["zone", "clock-ahead", "clock-behind", "never-compared", "no-offset"],
)
def test_an_entry_s_time_is_local_and_corrected(at: dict, clock: str) -> None:
    assert entry_time(meta(at=at)).strftime("%H:%M") == clock


def test_an_unreadable_time_is_said_to_be_not_known() -> None:
    assert who_when(meta(at={"utc": "soon"}), "2031-11-24") == (
        "time not known N. Ness-Example"
    )


@pytest.mark.parametrize(
    ("day", "words"),
    [
        ("2031-11-24", "10:41 N. Ness-Example"),
        ("2031-11-23", "24 Nov 10:41 N. Ness-Example"),
        ("2030-12-31", "24 Nov 2031 10:41 N. Ness-Example"),
    ],
)
def test_the_day_is_told_when_it_is_another(day: str, words: str) -> None:
    assert who_when(meta(), day) == words


def test_who_called_it_out_is_named_where_it_is_somebody_else() -> None:
    caller = {"person": None, "name": "E. Tarn-Example", "role": "operator"}
    words = who_when(meta(called_by=caller), "2031-11-24")
    assert words == "10:41 N. Ness-Example, called by E. Tarn-Example"
    same = meta()["author"]
    assert "called" not in who_when(meta(called_by=same), "2031-11-24")


def test_nobody_named_is_said() -> None:
    nobody = {"person": None, "name": "", "role": "assistant"}
    assert who_when(meta(author=nobody), "2031-11-24") == "10:41 nobody named"


def test_a_signature_s_time_carries_seconds_offset_and_zone() -> None:
    moment = datetime(2031, 10, 26, 0, 30, 5, tzinfo=ZoneInfo("UTC"))
    assert full_words(moment, "Europe/Oslo") == (
        "26 Oct 2031, 02:30:05 (UTC+02:00, Europe/Oslo)"
    )


def test_the_hour_that_comes_twice_is_told_apart_by_its_offset() -> None:
    """cases.md and coding.md section 7: repeated hour of an autumn change."""
    first = datetime(2031, 10, 26, 0, 30, tzinfo=ZoneInfo("UTC"))
    second = datetime(2031, 10, 26, 1, 30, tzinfo=ZoneInfo("UTC"))
    one, other = (full_words(m, "Europe/Oslo") for m in (first, second))
    assert one != other
    assert "02:30" in one
    assert "02:30" in other
