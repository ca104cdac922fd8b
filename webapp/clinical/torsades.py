"""Torsades: a paced rate that may not hold it off, and one that did not.

Source: fixtures/sources.md#clinical-12; Pinski 2002, none seen above 70 /min
(domain 1d).
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.asynchronous import settings_rows
from webapp.clinical.certain import certain_ends
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found, at_row
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told

_NAMED = ("indication.main_rhythm", "indication.with_rhythms")
_TORSADES = ("torsades_bradycardia", "torsades")


def torsades_remarks(told: Told) -> list[Found]:
    """Return what is found about paced rates where torsades is the reason."""
    again = {wire: _again_rows(told, wire) for wire in told.wires}
    found = [f for wire in told.wires for f in _again(told, wire, again[wire])]
    if not is_torsades(told.fold) and not any(again.values()):
        return found
    low = [f for wire in told.wires for f in _low_rates(told, wire)]
    return [*found, *low, *_low_plan(told)]


def is_torsades(fold: dict[str, Any]) -> bool:
    """Tell whether torsades is named among the rhythms of the indication."""
    named: list[Any] = []
    for path in _NAMED:
        for one in heads(fold, path):
            named += one if isinstance(one, list) else [one]
    return any(one in _TORSADES for one in named)


def _again_rows(told: Told, wire: str) -> list[Row]:
    rows = rows_of(told.fold, f"wires/{wire}/capture.rhythm_again")
    return [row for row in rows if row.value.get("rhythm") == "torsades"]


def _rates(told: Told, wire: str) -> list[list[Row]]:
    """Return target rates, then rates read back, each in time."""
    target = rows_of(told.fold, f"wires/{wire}/capture.target_rate")
    groups = (target, settings_rows(told.fold, wire))
    return [[row for row in rows if "rate" in row.value] for rows in groups]


def _low_rates(told: Told, wire: str) -> list[Found]:
    is_done = is_over(told.fold, wire)
    return [
        at_row(remark, row, wire, row is rows[-1] and not is_done)
        for rows in _rates(told, wire)
        for row in rows
        for remark in _low(told, row.value["rate"])
    ]


def _low_plan(told: Told) -> list[Found]:
    planned = told.fold["values"].get("finish.target_rate", [])
    return [
        Found(remark, "finish.target_rate", "", tuple(head["entries"]))
        for head in planned
        for remark in _low(told, head["value"])
    ]


def _low(told: Told, rate: Any) -> list[Remark]:
    key = "torsades_rate_protective_per_min"
    high, bound = certain_ends(rate, "/min")[1], number(told.limits.get(key))
    if high is None or bound is None or high > bound:
        return []
    return [Remark("torsades_rate_low", "look_again", {"rate": decimal(high)}, (key,))]


def _again(told: Told, wire: str, rows: list[Row]) -> list[Found]:
    """Return each recurrence; a faster rate told since puts it right."""
    told_rates = [row for group in _rates(told, wire) for row in group]
    found: list[Found] = []
    for row in rows:
        at = certain_ends(row.value.get("rate_then"), "/min")[1]
        later = [one for one in told_rates if one.time_ms > row.time_ms]
        lows = [certain_ends(one.value["rate"], "/min")[0] for one in later]
        is_faster = at is not None and any(n is not None and n > at for n in lows)
        code = "torsades_again_unsaid" if at is None else "torsades_again"
        values = {} if at is None else {"rate": decimal(at)}
        remark = Remark(code, "look_again", values, asks="torsades")
        stands = not is_faster and not is_over(told.fold, wire)
        found.append(at_row(remark, row, wire, stands))
    return found
