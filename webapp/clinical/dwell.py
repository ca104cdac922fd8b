"""How long a wire lay: in hours, or in about so many days where hours are not known.

Days without hours stay days, never times 24. Source: fixtures/sources.md#clinical-14,
published cases CR-02 and CR-07.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Any

from webapp.clinical.over import heads
from webapp.clinical.rows import moment_ms, one_answer, rows_of

_HOUR_MS, _MINUTE_MS, _DAY_MS = 3600000, 60000, 86400000
_MOST_OFFSET_MIN = 1440
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_FIRST_SEEN = (
    "advance.depth_reading",
    "capture.output_reading",
    "capture.dial_left_at",
)


@dataclass(frozen=True, slots=True)
class Dwell:
    """`hours`: whole hours, cut; None where not known: then `days`, between calendar
    days. `is_about`: a day, or a moment told as about.
    """

    hours: int | None
    days: int | None
    is_about: bool


@dataclass(frozen=True, slots=True)
class _When:
    ms: int | None
    day: int
    is_about: bool


def dwell(fold: dict[str, Any], wire: str) -> Dwell | None:
    """Return how long a wire lay that is out; None where either end is not known."""
    began = _began(fold, wire)
    out = _when(one_answer(fold, f"wires/{wire}/removal.removed_at"))
    if began is None or out is None:
        return None
    if began.ms is None or out.ms is None:
        days = out.day - began.day
        return Dwell(None, days, True) if days >= 0 else None
    if out.ms < began.ms:
        return None
    hours = (out.ms - began.ms) // _HOUR_MS
    return Dwell(hours, None, began.is_about or out.is_about)


def _began(fold: dict[str, Any], wire: str) -> _When | None:
    """Return when it was placed: as told of one that came with it, else here."""
    under = f"wires/{wire}"
    told = one_answer(fold, f"{under}/approach.came_placed_at")
    if told is not None or "came_with_it" in heads(fold, f"{under}/approach.wire_came"):
        return _when(told)
    seen = rows_of(fold, *(f"{under}/{name}" for name in _FIRST_SEEN))
    for row in seen[:1]:
        return _when(row.value.get("moment")) or _when(fold["entries"][row.id]["at"])
    own = [row for row in rows_of(fold, "wires") if row.id == wire]
    return _when(own[0].value.get("when")) if own else None


def _when(value: Any) -> _When | None:
    if not isinstance(value, dict):
        return None
    ms = moment_ms(value)
    is_about = value.get("certainty", "exact") != "exact"
    if ms is not None:
        told = value.get("offset_min")
        offset = told if type(told) is int and abs(told) <= _MOST_OFFSET_MIN else 0
        return _When(ms, (ms + offset * _MINUTE_MS) // _DAY_MS, is_about)
    day = value.get("day")
    if not isinstance(day, str) or _DAY.fullmatch(day) is None:
        return None
    try:
        since = date.fromisoformat(day) - date(1970, 1, 1)
    except ValueError:
        return None
    return _When(None, since.days, True)
