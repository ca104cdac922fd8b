"""What is found about settings read back: a test left open, modes, no sensing.

Source: fixtures/sources.md#clinical-10, #clinical-11, #domain-8c.
"""

from __future__ import annotations

from dataclasses import replace

from webapp.clinical.arrests import in_arrest
from webapp.clinical.asynchronous import (
    asynchronous,
    settings_rows,
    told_asynchronous,
    unsensed,
)
from webapp.clinical.dependence import dependence
from webapp.clinical.exact import number
from webapp.clinical.found import Found, at_row
from webapp.clinical.mode import Mode, mode_of
from webapp.clinical.open_test import SECOND_MS, open_test
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.shown import MINUTE_S, elapsed, seconds_of
from webapp.clinical.told import Told

_VENTRICULAR = ("rv", "cs_lv")
_ALARM = ("test_banner_alarm_s",)


def settings_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on the settings read back."""
    return [
        found
        for wire in told.wires
        for found in (*_test(told, wire), *_no_sensing(told, wire), *_modes(told, wire))
    ]


def _test(told: Told, wire: str) -> list[Found]:
    test = open_test(told.fold, wire, told.limits, told.now_ms)
    if test is None or is_over(told.fold, wire):
        return []
    if test.seconds is None:
        remark = Remark("test_settings_left", "look_again", asks="read_back")
    else:
        code = "test_settings" if test.setting else "test_settings_unsaid"
        values = {"setting": test.setting, "elapsed": elapsed(test.seconds)}
        remark = Remark(code, "look_again", values, asks="read_back")
        if test.is_late:
            remark = replace(remark, weight="look_now", limits=_ALARM)
    return [Found(remark, f"wires/{wire}/capture.dial_left_at", wire, test.ids)]


def _no_sensing(told: Told, wire: str) -> list[Found]:
    """Say that a wire paces asynchronously beside an own rhythm; else it is right."""
    run = asynchronous(told.fold, wire)
    rows = own_rows(told.fold)
    own = own_rhythm(rows[-1] if rows else None)
    if run is None or own.result != "rhythm" or in_arrest(told.fold):
        return []
    if is_over(told.fold, wire):
        return []
    evidence = (*run.ids, rows[-1].id)
    if told.now_ms is None:
        remark = Remark("asynchronous_left", "look_again")
    else:
        late_ms = told.now_ms - run.since_ms
        values = {"elapsed": elapsed(seconds_of(late_ms))}
        remark = Remark("asynchronous_standing", "look_again", values)
        bound = number(told.limits.get("async_review_min"))
        reliable = not dependence(own, told.limits).is_dependent
        if reliable and bound is not None and late_ms > bound * MINUTE_S * SECOND_MS:
            remark = replace(remark, weight="look_now", limits=("async_review_min",))
    return [Found(remark, f"wires/{wire}/capture.dial_left_at", wire, evidence)]


def _modes(told: Told, wire: str) -> list[Found]:
    """Return modes that cannot be, each at its row; only the latest still stands."""
    found: list[Found] = []
    mode: Mode | None = None
    rows = settings_rows(told.fold, wire)
    tells = [
        row.id
        for row in rows
        if mode_of(row.value.get("mode")) or told_asynchronous(row) is not None
    ]
    for n, row in enumerate(rows):
        own = mode_of(row.value.get("mode"))
        mode = own or mode
        if mode is None:
            continue
        codes = []
        if own and own.wants_atrial_wire and _no_atrial_wire(told, wire, own):
            codes.append("mode_without_atrial_wire")
        tells_any = own is not None or told_asynchronous(row) is not None
        if tells_any and not mode.is_asynchronous and unsensed(rows[: n + 1]):
            codes.append("mode_but_asynchronous")
        stands = row.id == tells[-1]
        found += [
            at_row(
                Remark(code, "look_again", {"mode": mode.code}),
                row,
                wire,
                stands,
            )
            for code in codes
        ]
    return found


def _no_atrial_wire(told: Told, wire: str, mode: Mode) -> bool:
    """Tell whether surely no wire lies in the atrium.

    A wire whose chamber nobody said may; but one wire alone cannot be both.
    """
    needs_both = "D" in mode.letters[:2]
    for other in told.wires:
        chambers = heads(told.fold, f"wires/{other}/approach.chamber")
        if "ra" in chambers:
            return False
        is_known = any(one in _VENTRICULAR for one in chambers)
        if not is_known and not (needs_both and other == wire):
            return False
    return True
