"""What is found about skin pacing and pads: twitch, readings that disagree, standby.

Source: fixtures/sources.md#clinical-18, #domain-5.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.evidence import in_order, last_ms
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.pads_and_capture import pads_and_capture_remarks
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import Pads, pads_of
from webapp.clinical.rows import Row, moment_ms, point, rows_of
from webapp.clinical.told import Told

READING = "indication.skin_pacing_reading"
PADS = "indication.pads"
SECOND_SIGNS = ("pleth", "arterial_line", "ultrasound")
OFF = ("none", "on_not_connected")
# The catalogue's hard range of an output through pads, mA.
_HARD = (Fraction(0), Fraction(200))


def skin_pacing_remarks(told: Told) -> list[Found]:
    """Return the remarks on spells, on pads said off, and on capture beside them."""
    pads = pads_of(told.fold)
    readings = rows_of(told.fold, READING)
    found: list[Found] = []
    for spell in pads.spells:
        own = [row for row in readings if row.value.get("of") == spell.id]
        is_over = _is_over(spell, pads.stops)
        found += [*_twitch(own, is_over), *_disagreeing(own, is_over)]
    # What names no known spell is judged too, each by itself.
    known = [spell.id for spell in pads.spells]
    loose = [row for row in readings if row.value.get("of") not in known]
    found += _twitch(loose, is_over=False)
    return [*found, *_pads_off(told, pads), *pads_and_capture_remarks(told, pads)]


def _is_over(spell: Row, stops: list[Row]) -> bool:
    """Tell whether a spell was ever stopped."""
    if moment_ms(spell.value.get("stop")) is not None:
        return True
    return any(stop.value.get("of") == spell.id for stop in stops)


def _signs(row: Row) -> list[str]:
    told = row.value.get("judged_how")
    return told if isinstance(told, list) else []


def _is_seen(row: Row) -> bool:
    """Tell whether mechanical capture was read by more than a pulse or an ECG."""
    told = any(sign in _signs(row) for sign in SECOND_SIGNS)
    return row.value.get("mechanical") == "yes" and told


def _twitch(readings: list[Row], is_over: bool) -> list[Found]:
    """Return pulses felt without a second sign; a later reading by one settles them."""
    found: list[Found] = []
    for n, row in enumerate(readings):
        felt = row.value.get("mechanical") == "yes" and "pulse" in _signs(row)
        if not felt or _is_seen(row):
            continue
        settled = is_over or any(_is_seen(later) for later in readings[n + 1 :])
        remark = Remark("pulse_may_twitch", "look_again", asks="second_sign")
        found.append(Found(remark, READING, "", (row.id,), not settled))
    return found


def _disagreeing(readings: list[Row], is_over: bool) -> list[Found]:
    """Return readings of one spell that say yes, then no, at the same output or more.

    Where neither says its output they are held to be alike. No reading overwrites
    another: both are told.
    """
    ids: dict[str, Row] = {}
    for kind in ("electrical", "mechanical"):
        for n, before in enumerate(readings):
            for after in readings[n + 1 :]:
                told = (before.value.get(kind), after.value.get(kind))
                if told == ("yes", "no") and _is_no_lower(before, after):
                    ids |= {before.id: before, after.id: after}
    if not ids:
        return []
    last = max(ids.values(), key=lambda row: (row.time_ms, row.place))
    later = [row for row in readings if row.time_ms >= last.time_ms and row is not last]
    settled = is_over or any(_is_seen(row) for row in later)
    remark = Remark("skin_readings_disagree", "look_again", asks="second_sign")
    return [Found(remark, READING, "", in_order(ids.values()), not settled)]


def _is_no_lower(before: Row, after: Row) -> bool:
    told = after.value.get("output")
    if isinstance(told, dict) and told.get("special") == "maximum":
        return True
    first = number(point(before.value.get("output"), "mA", _HARD).n)
    second = number(point(told, "mA", _HARD).n)
    if first is None or second is None:
        return first is None and second is None
    return second >= first


def _pads_off(told: Told, pads: Pads) -> list[Found]:
    """Return pads said not connected while a spell was open: one of both is not so."""
    found: list[Found] = []
    end_ms = max(told.now_ms or 0, last_ms(told.fold))
    for row in pads.states:
        spells = pads.open_spells(row.time_ms)
        if row.value["state"] not in OFF or not spells:
            continue
        stands = row is pads.states[-1] and bool(pads.open_spells(end_ms))
        remark = Remark("pads_off_while_pacing", "look_again")
        evidence = in_order([*spells, row])
        found.append(Found(remark, PADS, "", evidence, stands))
    return found
