"""Where outcome, endings and rows do not agree; nothing is decided, both are shown.

Source: fixtures/sources.md#clinical-22.
"""

from __future__ import annotations

from webapp.clinical.capture_said import Said, captures_said, said
from webapp.clinical.ending_remarks import ending_remarks
from webapp.clinical.evidence import entries_of
from webapp.clinical.found import Found
from webapp.clinical.left_at import PARTS
from webapp.clinical.over import heads
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.rows import rows_of
from webapp.clinical.told import Told
from webapp.clinical.wires_mixed import mixed_remarks

_PATH = "finish.outcome"
_BEGUN = (
    *("advance.depth_reading", "capture.threshold_test", "capture.output_reading"),
    *("capture.dial_left_at", "capture.sensing_test"),
)


def outcome_remarks(told: Told) -> list[Found]:
    """Return each contradiction of the outcome, of endings, and between wires."""
    found = [f for one in said(told.fold, _PATH) for f in _outcome(told, one)]
    found += [f for wire in told.wires for f in ending_remarks(told, wire)]
    return found + mixed_remarks(told)


def _outcome(told: Told, outcome: Said) -> list[Found]:
    contradicts = {
        "capturing_wire_in": _no_capture,
        "not_capturing_wire_in": _captures,
        "standby_wire_in": _paced,
        "given_up_wire_out": _left_in,
        "not_started": _left_in,
        "stopped_own_rhythm_back": _no_rhythm,
        "died_during": _alive,
    }
    if not isinstance(outcome.value, str) or outcome.value not in contradicts:
        return []
    code, others = contradicts[outcome.value](told, outcome)
    if not others:
        return []
    order = [i for i in told.fold["order"] if i in {*outcome.ids, *others}]
    return [Found(Remark(code, "look_again"), _PATH, "", tuple(order))]


def _last_said(told: Told, outcome: Said) -> list[Said]:
    """Return, wire by wire, what was last said of capture before the outcome."""
    every = [captures_said(told.fold, wire) for wire in told.wires]
    before = [[one for one in some if one.when < outcome.when] for some in every]
    return [some[-1] for some in before if some]


def _no_capture(told: Told, outcome: Said) -> tuple[str, list[str]]:
    last = _last_said(told, outcome)
    lost = [] if any(one.value for one in last) else last
    return "outcome_no_capture", [i for one in lost for i in one.ids]


def _captures(told: Told, outcome: Said) -> tuple[str, list[str]]:
    last = [one for one in _last_said(told, outcome) if one.value]
    return "outcome_captures", [i for one in last for i in one.ids]


def _paced(told: Told, _: Said) -> tuple[str, list[str]]:
    paths = [f"wires/{wire}/capture.pacing_delivered" for wire in told.wires]
    yes = [one for path in paths for one in said(told.fold, path) if one.value == "yes"]
    return "outcome_paced", [i for one in yes for i in one.ids]


def _left_in(told: Told, outcome: Said) -> tuple[str, list[str]]:
    """Return final settings, final depth and checks of a wire that is not in.

    Of several one that is out is enough: the others may have been left in.
    """
    wires = _of_procedure(told)
    in_place = [_in_place(told, wire) for wire in wires]
    if outcome.value != "not_started":
        ids = [i for some in in_place for i in some] if all(in_place) else []
        return "outcome_wire_in", ids
    if any(in_place):
        return "outcome_wire_in", [i for some in in_place for i in some]
    names = [f"wires/{wire}/{name}" for wire in wires for name in _BEGUN]
    return "outcome_begun", [row.id for row in rows_of(told.fold, *names)]


def _of_procedure(told: Told) -> list[str]:
    """Return the wires an outcome is about: one that came is not, beside another."""
    came = [f"wires/{wire}/approach.wire_came" for wire in told.wires]
    new = [
        wire
        for wire, path in zip(told.wires, came, strict=True)
        if "came_with_it" not in heads(told.fold, path)
    ]
    return new or list(told.wires)


def _in_place(told: Told, wire: str) -> tuple[str, ...]:
    """Return what tells that a wire was left in."""
    under = f"wires/{wire}"
    left = rows_of(told.fold, *(f"{under}/{part}.dial_left_at" for part in PARTS))
    rows = [row for row in left if row.value.get("when_kind") == "final"]
    rows += rows_of(told.fold, f"{under}/checks.check")
    depth = f"{under}/advance.final_depth"
    paths = [depth] if said(told.fold, depth) else []
    return entries_of(told.fold, paths, rows)


def _no_rhythm(told: Told, _: Said) -> tuple[str, list[str]]:
    rows = own_rows(told.fold)
    is_none = bool(rows) and own_rhythm(rows[-1]).result == "none"
    return "outcome_no_rhythm", [rows[-1].id] if is_none else []


def _alive(told: Told, _: Said) -> tuple[str, list[str]]:
    others = [one for one in said(told.fold, "finish.condition") if one.value != "died"]
    return "outcome_alive", [i for one in others for i in one.ids]
