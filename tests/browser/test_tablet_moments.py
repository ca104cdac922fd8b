"""Moments: now, some minutes ago, a time typed, about, a day; each names its clock."""

import re
from datetime import UTC, datetime

import pytest

LABEL = "Wristband read"
PATH = "patient.wristband_read"


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_new()
    return bedside


def minutes_from_now(moment):
    """How far a kept moment lies from this machine's clock."""
    at = datetime.fromisoformat(moment["utc"].replace("Z", "+00:00"))
    return (datetime.now(UTC) - at).total_seconds() / 60


def test_now_is_one_tap_and_exact(case):
    case.stamps(LABEL)
    case.says(LABEL, "kept")
    kept = case.value(PATH)
    assert (kept["certainty"], kept["clock"], kept["zone"]) == (
        "exact",
        "tablet",
        "Europe/Oslo",
    )
    assert abs(minutes_from_now(kept)) < 2


def test_two_minutes_ago_is_about(case):
    case.stamps(LABEL, "2 min ago")
    case.says(LABEL, "kept")
    kept = case.value(PATH)
    assert kept["certainty"] == "about"
    assert 1 < minutes_from_now(kept) < 4


def test_a_typed_time_is_on_the_wall_clock(case):
    case.times(LABEL, "24 Nov 2031", "10:41")
    case.says(LABEL, "kept")
    # Oslo is one hour ahead of UTC in November.
    assert case.value(PATH) == {
        "utc": "2031-11-24T09:41:00.000Z",
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "certainty": "exact",
        "clock": "wall",
    }


def test_a_time_needs_no_colon(case):
    case.times(LABEL, "24 Nov 2031", "1041")
    case.says(LABEL, "kept")
    assert case.value(PATH)["utc"] == "2031-11-24T09:41:00.000Z"


def test_about_is_said_beside_the_time(case):
    case.times(LABEL, "24 Nov 2031", "10:40", about=True)
    case.says(LABEL, "kept")
    assert case.value(PATH)["certainty"] == "about"


def test_a_day_alone_stays_a_day(case):
    case.times(LABEL, "24.11.2031")
    case.says(LABEL, "kept")
    assert case.value(PATH) == {"day": "2031-11-24", "certainty": "day"}


def test_what_cannot_be_read_is_kept_as_typed(case):
    case.times(LABEL, "second day")
    case.says(LABEL, "impossible")
    assert case.value(PATH) == {"as": "second day", "certainty": "unreadable"}


def test_a_look_at_a_kept_moment_changes_no_second(case):
    case.stamps(LABEL)
    case.says(LABEL, "kept")
    kept = case.value(PATH)
    case.field(LABEL).locator(".moment-time").focus()
    case.leaves(case.field(LABEL))
    assert case.value(PATH) == kept
    metas = case.fold()["entries"].values()
    assert len([m for m in metas if m["path"] == PATH]) == 1


def test_another_clock_is_named(case):
    field = case.field(LABEL)
    field.get_by_role("button", name=re.compile(f"{LABEL}: no answer")).click()
    field.locator(".moment-clock").select_option("server")
    case.page.keyboard.press("Escape")
    case.times(LABEL, "24 Nov 2031", "10:41")
    case.says(LABEL, "kept")
    assert case.value(PATH)["clock"] == "server"
