"""What comes after the procedure: what is due, a rising threshold, a wire that moved.

Source: fixtures/sources.md#clinical-23.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.depth_moved import depth_remarks
from webapp.clinical.dial import shown_on
from webapp.clinical.drift import Measured, drift
from webapp.clinical.due import Due, next_due
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found
from webapp.clinical.left_at import dial_in_use
from webapp.clinical.over import is_over
from webapp.clinical.readings import threshold_summary
from webapp.clinical.remarks import Remark
from webapp.clinical.retest import changes, since
from webapp.clinical.shown import elapsed, seconds_of, times
from webapp.clinical.standing import Tested
from webapp.clinical.told import Told

# After these the wire lies in another position.
_POSITION = ("depth", "repositioned", "resecured")
_LIMITS = {
    "look_check": "look_check_h",
    "threshold": "threshold_check_h",
    "dwell": "dwell_max_days",
}
_ROLES = "threshold_by_roles"
_AT_ITS_HOUR = ("need_review", "dwell")
_BY_AGE = ("need_review", "infection")
_HOURS_PER_DAY = Fraction(24)  # calendar


def drift_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on the time after the procedure."""
    found: list[Found] = []
    for wire in told.wires:
        due = next_due(told.fold, wire, told.policy)
        found += _drift(told, wire, due)
        found += depth_remarks(told, wire)
        found += _due(told, wire, due)
    return found


def _due(told: Told, wire: str, due: list[Due]) -> list[Found]:
    """Return what is past its time; need and site are one question while both are."""
    now = told.now_ms
    if now is None:
        return []
    past = [one for one in due if _is_past(one, now)]
    asked = [one.kind for one in past]
    return [
        Found(_remark(told, one, now), f"wires/{wire}/checks.check", wire)
        for one in past
        if not (one.kind == "infection" and "need_review" in asked)
    ]


def _is_past(due: Due, now_ms: int) -> bool:
    """Tell whether it is past; a review falls due at its hour, not after it."""
    return now_ms > due.due_ms or (due.kind in _AT_ITS_HOUR and now_ms == due.due_ms)


def _remark(told: Told, due: Due, now_ms: int) -> Remark:
    values = {"hours": decimal(due.hours)}
    if due.kind not in _BY_AGE:
        values = {"late": elapsed(seconds_of(now_ms - due.due_ms))}
    if due.kind == "dwell":
        values = {"days": decimal(due.hours / _HOURS_PER_DAY)}
    key = "arrival_check_min" if due.after else _LIMITS.get(due.kind)
    limits, asks = (key,) if key else (), ""
    if due.kind == "threshold":
        roles = ", ".join(told.policy.rows[_ROLES].values)
        values, asks = {**values, "roles": roles}, "threshold_by"
        limits = (*limits, _ROLES)
    return Remark(f"due_{due.kind}", "look_again", values, limits, asks)


def _drift(told: Told, wire: str, due: list[Due]) -> list[Found]:
    """Return the one thing a run of thresholds says; of a margin below the floor now
    the settings' own remark speaks.
    """
    if is_over(told.fold, wire):
        return []
    summary = threshold_summary(told.fold, wire, told.policy, now_ms=told.now_ms)
    tests = _in_position(told, wire, summary.tests)
    values = [Measured(t.told.time_ms, t.result.threshold or "") for t in tests]
    left = summary.left_at
    found = drift(
        values,
        left.output if left and left.unit == "mA" else None,
        summary.margin.verdict == "below_floor",
        next((one.due_ms for one in due if one.kind == "threshold"), None),
        told.limits,
    )
    if found.step not in ("projected", "risen"):
        return []
    remark = _drifted(told, wire, values, found.step, found.shown)
    in_order = sorted(tests, key=lambda test: test.told.place)
    ids = tuple(
        dict.fromkeys(i for t in in_order for i in (t.told.id, *t.told.ids) if i)
    )
    return [Found(remark, f"wires/{wire}/checks.threshold_test", wire, ids)]


def _drifted(
    told: Told, wire: str, values: list[Measured], step: str, margin: str
) -> Remark:
    if step == "projected":
        key = "threshold_margin_floor"
        floor = number(told.limits.get(key))
        shown = {"margin": margin, "floor": "" if floor is None else times(floor)}
        return Remark("drift_projected", "look_again", shown, (key,))
    dial, _ = dial_in_use(told.fold, wire)
    first, last = (shown_on(dial, one.value) for one in (values[0], values[-1]))
    keys = ("drift_factor", "drift_minimum_ma")
    return Remark("drift_risen", "look_again", {"first": first, "last": last}, keys)


def _in_position(told: Told, wire: str, tests: tuple[Tested, ...]) -> list[Tested]:
    """Return the tests in mA that found a threshold since the wire last moved."""
    found = changes(told.fold, wire, told.limits)
    moves = [one for one in found if one.code in _POSITION]
    return [
        test
        for test in tests
        if test.result.threshold is not None
        and test.told.unit == "mA"
        and since(test.told.time_ms, test.told.place, moves) is None
    ]
