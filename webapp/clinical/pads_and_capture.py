"""Capture of the wire while pads pace, and where the pads stand once it is proven.

Source: fixtures/sources.md#clinical-18, #clinical-27 (V12a).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.clinical.dependence import dependence
from webapp.clinical.evidence import entries_of, in_order
from webapp.clinical.found import Found
from webapp.clinical.over import heads, is_over
from webapp.clinical.pads_heard import pads_heard
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import Pads, own_rhythm, own_rows
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told

PADS = "indication.pads"
_OFF = ("none", "on_not_connected")


@dataclass(frozen=True, slots=True)
class Captured:
    """One statement that a wire captures, where it stands and what it rests on."""

    path: str
    wire: str
    time_ms: int
    ids: tuple[str, ...]


def pads_and_capture_remarks(told: Told, pads: Pads) -> list[Found]:
    """Return capture said while pads paced, then pads not on standby at its proof."""
    found = [one for wire in told.wires for one in _under_pads(told, wire, pads)]
    return [*found, *_standby(told, pads)]


def _under_pads(told: Told, wire: str, pads: Pads) -> list[Found]:
    """Return statements inside an open spell; a later one without pads settles it."""
    said = _said(told.fold, wire)
    readings = [
        row.time_ms
        for part in ("capture", "checks")
        for row in rows_of(told.fold, f"wires/{wire}/{part}.output_reading")
        if row.value.get("result") == "captures"
    ]
    times = [*(one.time_ms for one in said), *readings]
    free = [time_ms for time_ms in times if not pads.is_pacing_at(time_ms)]
    remark = Remark("capture_under_pads", "look_now", asks="second_sign")
    return [
        Found(
            remark,
            one.path,
            wire,
            _in_record(told.fold, one.ids, _open(pads, one.time_ms)),
            not any(time_ms > one.time_ms for time_ms in free),
        )
        for one in said
        if pads.is_pacing_at(one.time_ms)
    ]


def _standby(told: Told, pads: Pads) -> list[Found]:
    """Return how the pads stood when capture was first proven, unless on standby.

    What was told first after it counts where nothing was told before. Where nobody
    told of pads, that is said of a patient known to be dependent.
    """
    proven = [one for wire in told.wires for one in _proven(told.fold, wire, pads)]
    if not proven:
        return []
    first = min(proven, key=lambda one: one.time_ms)
    if not pads.states:
        return _never_told(told, first, pads)
    before = [row for row in pads.states if row.time_ms <= first.time_ms][-1:]
    if not before and _heard_on(told, first.time_ms):
        return []
    before = before or pads.states[:1]
    if not any(row.value["state"] in _OFF for row in before):
        return []
    is_off = pads.states[-1].value["state"] in _OFF
    stands = is_off and not is_over(told.fold, first.wire)
    remark = Remark("standby_off", "look_again", asks="pads_standby")
    evidence = _in_record(told.fold, first.ids, before)
    return [Found(remark, PADS, first.wire, evidence, stands)]


def _heard_on(told: Told, until_ms: int) -> bool:
    """Tell whether pads were told on or ready elsewhere up to a time."""
    return any(one.is_on and one.time_ms <= until_ms for one in pads_heard(told))


def _never_told(told: Told, first: Captured, pads: Pads) -> list[Found]:
    """Return what is said where the pads have no row of their own, unless told on."""
    rows = own_rows(told.fold)
    own = _dependent_row(told, first, rows)
    heard = pads_heard(told)
    if own is None or pads.spells or any(one.is_on for one in heard):
        return []
    code = "standby_off" if heard else "standby_not_told"
    ids = (*first.ids, *(entry_id for one in heard for entry_id in one.ids))
    evidence = _in_record(told.fold, ids, [own])
    stands = _is_dependent(told, rows[-1]) and not is_over(told.fold, first.wire)
    remark = Remark(code, "look_again", asks="pads_standby")
    return [Found(remark, PADS, first.wire, evidence, stands)]


def _dependent_row(told: Told, first: Captured, rows: list[Row]) -> Row | None:
    """Return what makes the patient dependent: the last before, or none told after."""
    before = [row for row in rows if row.time_ms <= first.time_ms][-1:]
    after = [row for row in rows if row.time_ms > first.time_ms]
    none = [row for row in after if own_rhythm(row).result == "none"]
    told_so = [row for row in [*before, *none] if _is_dependent(told, row)]
    return next(iter(told_so), None)


def _is_dependent(told: Told, row: Row) -> bool:
    return dependence(own_rhythm(row), told.limits).is_dependent


def _said(fold: dict[str, Any], wire: str) -> list[Captured]:
    """Return every statement that a wire captures, in time."""
    path = f"wires/{wire}/capture.electrical_capture"
    found = [
        Captured(row.path, wire, row.time_ms, (row.id,)) for row in _checks(fold, wire)
    ]
    if "yes" in heads(fold, path):
        ids = entries_of(fold, (path,))
        found.append(Captured(path, wire, _last_ms(fold, ids), ids))
    return sorted(found, key=lambda one: one.time_ms)


def _proven(fold: dict[str, Any], wire: str, pads: Pads) -> list[Captured]:
    """Return the statements that also name a mechanical sign.

    While pads pace nothing proves capture of the wire: beat or sign may be the pads'.
    """
    path = f"wires/{wire}/capture.electrical_capture"
    sign = f"wires/{wire}/capture.mechanical_capture"
    found = [
        Captured(row.path, wire, row.time_ms, (row.id,))
        for row in _checks(fold, wire)
        if _has_sign(row.value.get("mechanical_capture"))
        and not pads.is_pacing_at(row.time_ms)
    ]
    signs = any(_has_sign(told) for told in heads(fold, sign))
    if signs and "yes" in heads(fold, path):
        ids = entries_of(fold, (path, sign))
        times = [fold["entries"][entry_id]["time_ms"] for entry_id in ids]
        if not any(pads.is_pacing_at(time_ms) for time_ms in times):
            found.append(Captured(path, wire, max(times), ids))
    return found


def _checks(fold: dict[str, Any], wire: str) -> list[Row]:
    rows = rows_of(fold, f"wires/{wire}/checks.check")
    return [row for row in rows if row.value.get("electrical_capture") == "yes"]


def _has_sign(told: Any) -> bool:
    return isinstance(told, list) and any(sign != "none" for sign in told)


def _last_ms(fold: dict[str, Any], ids: tuple[str, ...]) -> int:
    times: list[int] = [fold["entries"][entry_id]["time_ms"] for entry_id in ids]
    return max(times)


def _open(pads: Pads, time_ms: int) -> list[Row]:
    """Return what says that pads paced at a time: open spells, and the pads' state."""
    before = [row for row in pads.states if row.time_ms <= time_ms]
    last = [row for row in before[-1:] if row.value["state"] == "pacing_now"]
    return [*pads.open_spells(time_ms), *last]


def _in_record(
    fold: dict[str, Any], ids: tuple[str, ...], rows: list[Row]
) -> tuple[str, ...]:
    told = {*ids, *in_order(rows)}
    return tuple(entry_id for entry_id in fold["order"] if entry_id in told)
