"""What holds after the procedure and for settings, whatever was recorded.

Source of each property: clinical sections 10, 11, 23 and 27 (fixtures/sources.md).
"""

from __future__ import annotations

import copy
from itertools import product
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.support.clinical_generated import Generated
from tests.support.clinical_told import fold_of, now_ms
from webapp.catalogue import CATALOGUE
from webapp.clinical import policy
from webapp.clinical.case_remarks import case_remarks
from webapp.clinical.due import next_due
from webapp.clinical.ending_remarks import _FOLLOWS
from webapp.clinical.mode import LETTERS, mode_of
from webapp.clinical.open_test import open_test
from webapp.say import SAY

LIMITS = policy.load()
WIRE = {"path": "wires", "id": "w1", "add": {}}
OVER = (
    ("wires/w1/removal.ending", "removed_rhythm_back"),
    ("wires/w1/removal.ending", "pulled_out"),
    ("wires/w1/removal.ending", "died_wire_in"),
    ("wires/w1/removal.event", "found_out"),
    ("finish.condition", "died"),
    ("finish.outcome", "died_during"),
)
# Everything read by name here; the catalogue must have it.
READ = {
    "wires/w/capture.dial_left_at": (
        *("mode", "rate", "output", "output_v", "sensitivity", "asynchronous"),
    ),
    "wires/w/capture.sensing_test": ("sensed_mv", "output"),
    "wires/w/checks.sensing_reading": ("sensitivity", "result"),
    "wires/w/capture.overdrive": ("chamber", "rate", "defibrillator_charged"),
    "wires/w/capture.target_rate": ("rate",),
    "wires/w/capture.rhythm_again": ("rhythm", "rate_then"),
    "wires/w/capture.generator": ("sensitivity_dial", "pulse_width"),
    "wires/w/capture.threshold_test": ("pulse_width",),
    "wires/w/checks.check": (
        *("due_reason", "done", "threshold_due", "still_needed", "site_score"),
        *("depth", "read_at", "read_how", "pads", "electrical_capture"),
    ),
    "wires/w/handover.receiver_reads": (
        *("depth", "read_at", "read_how", "mode", "rate", "output", "output_v"),
        *("sensitivity", "asynchronous"),
    ),
    "handover.transfer": (
        *("left_at", "arrived_at", "pads_with", "depth_before", "depth_after"),
    ),
    "indication.arrest": ("pulse_back",),
    "indication.pulse_back": (),
    "wires/w/capture.capture_lost": (),
    "wires/w/checks.capture_regained": (),
}
FIELDS = (
    *("finish.outcome", "finish.condition", "finish.destination", "finish.handed_to"),
    *("finish.received_by", "finish.received_at", "finish.check_interval"),
    *("finish.target_rate", "finish.dressing_on", "indication.urgency"),
    *("indication.main_rhythm", "indication.with_rhythms"),
    *(
        f"wires/w/{name}"
        for name in (
            *("approach.chamber", "approach.wire_kind", "approach.wire_came"),
            *("approach.came_placed_at", "advance.final_depth"),
            *("advance.final_read_at", "advance.final_read_how"),
            *("capture.electrical_capture", "capture.pacing_delivered"),
            *("capture.impedance", "removal.event", "removal.ending"),
            *("removal.removed_at", "removal.balloon_down", "removal.syringe_empty"),
            *("removal.resistance", "removal.tip_complete", "removal.completed"),
            *("removal.electrodes_complete", "removal.length_complete"),
            *("removal.site", "removal.replaced_by"),
        )
    ),
)
seeds = st.integers(0, 10**6)
DAYS = ("10:40", "+1 10:20", "+3 00:00", "+9 12:00", "+300 12:00")


def record(seed: int) -> list[dict[str, Any]]:
    source = Generated(seed)
    checks = [
        {"path": "finish.received_at", "set": {"utc": "2031-11-24T11:00:00.000Z"}},
        {"path": "wires/w1/capture.dial_left_at", "add": {"when_kind": "final"}},
    ]
    return [WIRE, *source.told()["told"], *checks]


@settings(max_examples=80)
@given(seeds, st.sampled_from(OVER), st.sampled_from(DAYS))
def test_after_removal_or_death_nothing_is_due_ever(seed, end, at) -> None:
    """V12b."""
    path, value = end
    fold = fold_of([*record(seed), {"path": path, "set": value}])
    assert next_due(fold, "w1", LIMITS) == []
    told = case_remarks(fold, LIMITS, now_ms=now_ms(at))
    asked = [
        f.name
        for f in told
        if f.stands and f.wire == "w1" and f.name.startswith(("due_", "test_settings"))
    ]
    assert asked == []


@settings(max_examples=60)
@given(seeds, st.sampled_from(DAYS))
def test_what_is_found_writes_nothing(seed, at) -> None:
    """V6: neither a setting nor anything else."""
    fold = fold_of(record(seed))
    before = copy.deepcopy(fold)
    case_remarks(fold, LIMITS, now_ms=now_ms(at))
    assert fold == before


@settings(max_examples=60)
@given(st.permutations(("rate", "output", "sensitivity")), st.integers(0, 3))
def test_test_settings_stand_until_all_three_are_read(order, count) -> None:
    """V4: in whichever order, in rows of their own."""
    values = {"rate": "80 /min", "output": "3.0 mA", "sensitivity": "2.0 mV"}
    told = [WIRE, {"path": "wires/w1/capture.threshold_test", "add": {}}]
    told += [
        {"path": "wires/w1/capture.dial_left_at", "add": {name: values[name]}}
        for name in order[:count]
    ]
    limits = LIMITS.limits(is_adult=True)
    found = open_test(fold_of(told), "w1", limits, now_ms("+1 10:00"))
    assert (found is None) == (count == len(values))
    assert found is None or found.is_late


def test_every_mode_of_the_catalogue_is_read_and_explained_by_position() -> None:
    field = CATALOGUE.field("wires/w/capture.dial_left_at")
    assert field is not None
    asked = field.child("mode")
    assert asked is not None
    codes = [choice.code for choice in asked.choices if choice.code != "other"]
    assert [code for code in codes if mode_of(code) is None] == []
    places = [product((str(n),), told) for n, told in enumerate(LETTERS, start=1)]
    keys = {f"clinical.mode.{n}.{letter}" for one in places for n, letter in one}
    keys |= {"clinical.mode.4.", "clinical.mode.5."}
    assert keys == {key for key in SAY if key.startswith("clinical.mode.")}


def test_every_event_and_every_ending_of_the_catalogue_is_known() -> None:
    event, ending = (
        CATALOGUE.field(f"wires/w/removal.{name}") for name in ("event", "ending")
    )
    assert event is not None
    assert ending is not None
    assert {choice.code for choice in event.choices} == set(_FOLLOWS)
    told = {code for codes in _FOLLOWS.values() for code in codes}
    assert {choice.code for choice in ending.choices} == told


def test_all_that_is_read_by_name_stands_in_the_catalogue() -> None:
    assert [path for path in FIELDS if CATALOGUE.field(path) is None] == []
    for path, names in READ.items():
        field = CATALOGUE.field(path)
        assert field is not None, path
        assert [name for name in names if field.child(name) is None] == [], path
