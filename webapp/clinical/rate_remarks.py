"""What is found about the rate: beside the own rhythm, rapid, and after torsades.

Source: fixtures/sources.md#clinical-12.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.asynchronous import settings_rows
from webapp.clinical.certain import certain_ends
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found, at_row, ids_in_order
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told
from webapp.clinical.torsades import torsades_remarks

_VENTRICULAR = ("rv", "cs_lv")


def rate_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on the rates read back, planned and used."""
    return [
        found
        for wire in told.wires
        for found in (*_beside_own(told, wire), *_rapid(told, wire))
    ] + torsades_remarks(told)


def _rate(row: Row) -> tuple[Fraction | None, Fraction | None]:
    return certain_ends(row.value.get("rate"), "/min")


def _beside_own(told: Told, wire: str) -> list[Found]:
    """Say that a rate read back is not above the own rhythm: held against the own
    rhythm known then, the last settings against the last known. A wire left in standby
    is to be won over: silent.
    """
    if heads(told.fold, "finish.outcome") == ["standby_wire_in"]:
        return []
    rows = [r for r in settings_rows(told.fold, wire) if _rate(r)[1] is not None]
    own = own_rows(told.fold)
    found: list[Found] = []
    for row in rows:
        is_last = row is rows[-1]
        known = own if is_last else [one for one in own if one.time_ms <= row.time_ms]
        if not known or own_rhythm(known[-1]).result != "rhythm":
            continue
        rate, least = _rate(row)[1], _rate(known[-1])[0]
        if rate is None or least is None or rate > least:
            continue
        values = {"rate": decimal(rate), "own": decimal(least)}
        stands = is_last and not is_over(told.fold, wire)
        evidence = ids_in_order([row, known[-1]])
        remark = Remark("rate_below_own", "look_again", values)
        found.append(Found(remark, row.path, wire, evidence, stands))
    return found


def _rapid(told: Told, wire: str) -> list[Found]:
    """Ask of rapid pacing: the defibrillator, a second time, which chamber."""
    under = f"wires/{wire}/capture"
    groups = [
        rows_of(told.fold, f"{under}.overdrive"),
        rows_of(told.fold, f"{under}.target_rate"),
        settings_rows(told.fold, wire),
    ]
    is_done = is_over(told.fold, wire)
    return [
        at_row(
            remark,
            row,
            wire,
            row is rows[-1] and not is_done and not (is_met and _is_charged(row)),
        )
        for rows in groups
        for row in rows
        for remark, is_met in _asked(told, wire, row)
    ]


def _highest(row: Row) -> Fraction | None:
    """Return the rate to hold against what is rapid: of a range its high end."""
    low, high = _rate(row)
    return low if low is None or high is None else high


def _is_charged(row: Row) -> bool:
    """Tell whether the row itself answers that the defibrillator is charged."""
    return row.value.get("defibrillator_charged") == "yes"


def _asked(told: Told, wire: str, row: Row) -> list[tuple[Remark, bool]]:
    """Return what a rate is asked, and whether "charged" answers it."""
    of_wire = heads(told.fold, f"wires/{wire}/approach.chamber")
    chambers = [*of_wire, row.value.get("chamber")]
    rate = _highest(row)
    rapid = number(told.limits.get("rapid_ventricular_per_min"))
    again = number(told.limits.get("rapid_ask_again_per_min"))
    is_rapid = rate is not None and rapid is not None and rate > rapid
    # The wire is called atrial: rapid, or overdrive whose chamber nobody answered.
    is_called = "ra" in of_wire and (is_rapid or _is_unanswered(row))
    found: list[tuple[Remark, bool]] = []
    if row.value.get("chamber") == "ra" or is_called:
        found.append((Remark("atrial_rapid", "look_again"), False))
    if rate is None or not is_rapid:
        return found
    values, key = {"rate": decimal(rate)}, ("rapid_ventricular_per_min",)
    if any(one in _VENTRICULAR for one in chambers):
        asked = Remark("rapid_ventricular", "look_now", values, key, "defibrillator")
        found.append((asked, True))
        if again is not None and rate > again:
            second = ("rapid_ask_again_per_min",)
            found.append((Remark("rapid_again", "look_now", values, second), False))
    elif "ra" not in chambers:
        found.append((Remark("rapid_chamber_unsaid", "look_again", values, key), False))
    return found


def _is_unanswered(row: Row) -> bool:
    """Tell whether this is overdrive that does not say which chamber."""
    is_overdrive = row.path.endswith(".overdrive")
    return is_overdrive and not isinstance(row.value.get("chamber"), str)
