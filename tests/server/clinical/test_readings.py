"""A wire's summary: the catalogue's own names and ranges, and no pairing of wires."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.support.clinical_calls import plain
from tests.support.clinical_generated import Generated
from tests.support.clinical_told import fold_of
from webapp.catalogue import CATALOGUE
from webapp.clinical import policy
from webapp.clinical.left_at import PARTS
from webapp.clinical.readings import threshold_summary
from webapp.clinical.rows import HARD, HARD_HEIGHT

GROUPS = {
    "indication.own_rhythm": ("result", "rate", "tolerated", "reliable"),
    "indication.pads": ("state",),
    "indication.skin_pacing": ("state", "start", "stop"),
    "indication.skin_pacing_stop": (),
    "wires/w/advance.depth_reading": ("depth", "read_at", "read_how", "balloon"),
    "wires/w/advance.balloon": ("state",),
    "wires/w/advance.new_pass": (),
    "wires/w/capture.changed": ("what",),
    "wires/w/capture.generator": ("output_dial", "output_kind"),
    "wires/w/checks.check": ("depth", "read_at", "read_how", "balloon"),
    **{f"wires/w/{part}.own_rhythm": ("result", "rate") for part in PARTS},
    **{
        f"wires/w/{part}.threshold_test": (
            *("kind", "set_output", "rate", "pads_ready", "doctor_present"),
        )
        for part in PARTS
    },
    **{
        f"wires/w/{part}.output_reading": ("output", "output_v", "result", "rate")
        for part in PARTS
    },
    **{
        f"wires/w/{part}.dial_left_at": ("when_kind", "output", "output_v")
        for part in PARTS
    },
}
CODES = {
    ("indication.own_rhythm", "result"): {
        *("rhythm", "none", "not_tested", "not_tolerated"),
    },
    ("indication.pads", "state"): {"pacing_now"},
    ("indication.skin_pacing", "state"): {"paced"},
    ("wires/w/advance.depth_reading", "read_how"): {"ruler", "on_ring"},
    ("wires/w/advance.balloon", "state"): {"up", "down", "some_left"},
    ("wires/w/capture.changed", "what"): {
        *("resecured", "repositioned", "cable", "generator", "balloon"),
    },
    ("wires/w/capture.generator", "output_kind"): {"voltage"},
    ("wires/w/capture.output_reading", "result"): {
        *("captures", "no_capture", "cannot_tell"),
    },
    ("wires/w/capture.dial_left_at", "when_kind"): {"final"},
}


def test_every_group_and_child_that_is_read_is_in_the_catalogue() -> None:
    missing = [
        f"{path}: {child}"
        for path, children in GROUPS.items()
        for child in children
        if (field := CATALOGUE.field(path)) is None or field.child(child) is None
    ]
    assert missing == []
    assert all(CATALOGUE.field(path) for path in GROUPS)


def test_every_answer_that_is_looked_for_is_a_choice_of_the_catalogue() -> None:
    for (path, child), codes in CODES.items():
        field = CATALOGUE.field(path)
        assert field is not None
        asked = field.child(child)
        assert asked is not None
        assert codes <= {choice.code for choice in asked.choices}, (path, child)


def test_what_counts_as_possible_is_what_the_catalogue_says() -> None:
    told = {
        "mA": ("wires/w/capture.output_reading", "output"),
        "V": ("wires/w/capture.output_reading", "output_v"),
        "/min": ("wires/w/capture.output_reading", "rate"),
        "cm": ("wires/w/advance.depth_reading", "depth"),
        "mV": ("wires/w/capture.dial_left_at", "sensitivity"),
    }
    for unit, (path, child) in told.items():
        field = CATALOGUE.field(path)
        asked = field.child(child) if field else None
        assert asked is not None
        assert asked.hard is not None
        assert asked.units == (unit,)
        assert HARD[unit] == (_exact(asked.hard.low), _exact(asked.hard.high))
    for path, hard in (("patient.weight", HARD["kg"]), ("patient.height", HARD_HEIGHT)):
        field = CATALOGUE.field(path)
        assert field is not None
        assert field.hard is not None
        assert hard == (_exact(field.hard.low), _exact(field.hard.high))


def _exact(text: str) -> Fraction:
    return Fraction(text)


@settings(max_examples=60)
@given(st.integers(0, 10**6))
def test_what_happens_to_one_wire_changes_nothing_of_another(seed: int) -> None:
    told = with_own_ids(Generated(seed).told()["told"])
    mine = [one for one in told if not one["path"].startswith("wires/w2/")]
    # Own rhythm is the patient's, whichever wire it was asked beside.
    mine += [
        one
        for one in told
        if one["path"].startswith("wires/w2/") and "own_rhythm" in one["path"]
    ]
    timed = {id(one): n for n, one in enumerate(told)}
    whole = [{**one, "at": _clock(timed[id(one)])} for one in told]
    part = [{**one, "at": _clock(timed[id(one)])} for one in told if one in mine]
    found = [
        without_place(plain(threshold_summary(fold_of(entries), "w1", policy.load())))
        for entries in (_named(whole, whole), _named(part, whole))
    ]
    assert found[0] == found[1]


def with_own_ids(told: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Leave out what bears an id another entry has: no two entries ever do."""
    seen: set[str] = set()
    kept = []
    for n, one in enumerate(told):
        name = one.get("id", f"e{n}")
        if name not in seen:
            seen.add(name)
            kept.append(one)
    return kept


def without_place(told: Any) -> Any:
    """Leave out where rows stand among all entries, of which there are now fewer."""
    if isinstance(told, dict):
        return {k: without_place(v) for k, v in told.items() if k != "place"}
    return [without_place(v) for v in told] if isinstance(told, list) else told


def _clock(n: int) -> str:
    return f"10:{n:02d}"


def _named(entries: list[dict[str, Any]], whole: list[dict[str, Any]]) -> list[Any]:
    names = {one["at"]: f"e{n}" for n, one in enumerate(whole)}
    return [{"id": names[one["at"]], **one} for one in entries]


@settings(max_examples=60)
@given(st.integers(0, 10**6))
def test_no_summary_holds_both_a_margin_and_an_unknown_threshold(seed: int) -> None:
    source = Generated(seed)
    found = threshold_summary(fold_of(source.told()["told"]), "w1", policy.load())
    if found.threshold is None and found.at_most is None:
        assert found.margin.shown == "unknown"
    if found.threshold is None:
        assert found.asks.output is None
    if found.left_at is None or found.left_at.output is None:
        assert found.margin.shown == "unknown"
