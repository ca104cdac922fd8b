"""What lasted on the time ruler: from rows that stand, never longer than told."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.records import BEGAN, ZONE, Recording
from webapp.record.timeline import timeline
from webapp.record.timeline_bars import Bar, bars, instant_ms

DAY = BEGAN.date().isoformat()
DRUGS, SKIN = "indication.drugs_given", "indication.skin_pacing"
DOSE = {"as": "1", "n": "1", "unit": "mg"}


def at(clock: str, certainty: str = "exact") -> dict[str, Any]:
    told = {"utc": f"{DAY}T{clock}:00.000Z", "zone": ZONE, "offset_min": -240}
    return {**told, "certainty": certainty, "clock": "wall"}


def ms(clock: str) -> int:
    found = instant_ms(at(clock))
    assert found is not None
    return found


@pytest.fixture
def record() -> Recording:
    return Recording()


def only(record: Recording) -> Bar:
    [one] = bars(record.case)
    return one


def test_a_drug_is_named_with_its_dose_at_its_moment(record: Recording) -> None:
    record.adds(DRUGS, {"drug": "atropine", "dose": DOSE, "moment": at("07:10")})
    one = only(record)
    assert (one.label, one.start_ms, one.lasts) == ("Atropine 1 mg", ms("07:10"), False)


def test_a_dose_not_known_is_said(record: Recording) -> None:
    dose = {"absent": "not_known"}
    record.adds(DRUGS, {"drug": "atropine", "dose": dose, "moment": at("07:10")})
    assert only(record).label == "Atropine, dose not known"


def test_an_infusion_lasts_until_it_was_stopped(record: Recording) -> None:
    run = {"route": "iv_infusion", "moment": at("07:10"), "stopped": at("07:50")}
    record.adds(DRUGS, {"drug": "dopamine", **run})
    one = only(record)
    assert (one.lasts, one.end_ms) == (True, ms("07:50"))


def test_an_infusion_whose_stop_nobody_told_has_no_end(record: Recording) -> None:
    run = {"route": "iv_infusion", "moment": at("07:10")}
    record.adds(DRUGS, {"drug": "dopamine", **run})
    one = only(record)
    assert one.lasts
    assert one.end_ms is None


@pytest.mark.parametrize("state", ["ready_not_pacing", "not_used"])
def test_pads_that_did_not_pace_are_no_bar(record: Recording, state: str) -> None:
    record.adds(SKIN, {"state": state, "start": at("07:10")})
    assert bars(record.case) == ()


def test_skin_pacing_says_rate_and_output_and_lasts(record: Recording) -> None:
    told = {
        "rate": {"as": "70", "n": "70", "unit": "/min"},
        "output": {"as": "80", "n": "80", "unit": "mA"},
    }
    spell = {"state": "paced", "start": at("07:10"), "stop": at("07:30")}
    record.adds(SKIN, {**spell, **told})
    one = only(record)
    assert (one.label, one.end_ms) == ("Pacing, 70 /min, 80 mA", ms("07:30"))


def test_skin_pacing_ends_where_its_own_stop_was_told(record: Recording) -> None:
    first = record.adds(SKIN, {"state": "paced", "start": at("07:10")})
    record.adds(SKIN, {"state": "paced", "start": at("07:40")})
    record.adds(f"{SKIN}_stop", {"of": first, "moment": at("07:25")})
    assert [one.end_ms for one in bars(record.case)] == [ms("07:25"), None]


def test_a_struck_drug_is_not_drawn(record: Recording) -> None:
    row = record.adds(DRUGS, {"drug": "atropine", "moment": at("07:10")})
    record.strikes(DRUGS, row)
    assert bars(record.case) == ()


def test_a_drug_without_clock_time_is_not_drawn(record: Recording) -> None:
    record.adds(DRUGS, {"drug": "atropine", "dose": DOSE})
    record.adds(DRUGS, {"drug": "atropine", "moment": {"day": DAY, "certainty": "day"}})
    assert bars(record.case) == ()


def test_a_time_that_was_not_exact_is_about(record: Recording) -> None:
    record.adds(DRUGS, {"drug": "atropine", "moment": at("07:10", "about")})
    assert only(record).about


def test_what_ended_before_the_ruler_begins_is_counted_instead(
    record: Recording,
) -> None:
    record.adds(DRUGS, {"drug": "atropine", "moment": at("01:10")})
    run = {"route": "iv_infusion", "moment": at("01:10")}
    record.adds(DRUGS, {"drug": "dopamine", **run})
    wire = record.wire({})
    depth = {"as": "30", "n": "30", "unit": "cm"}
    reading = {"depth": depth, "moment": at("09:00")}
    record.adds(f"wires/{wire}/advance.depth_reading", reading)
    line = timeline(record.case)
    assert line is not None
    assert line.others == 1
    assert [one.label for one in line.bars] == ["Dopamine"]
