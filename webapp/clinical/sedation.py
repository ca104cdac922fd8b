"""Sedation observed often enough, from its start until it is stopped.

Source: fixtures/sources.md#clinical-21.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from webapp.clinical.evidence import entries_of, in_order
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.over import has_died, heads
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, moment_ms, rows_of
from webapp.clinical.shown import elapsed, seconds_of
from webapp.clinical.told import Told

PATH = "approach.sedation_observation"
_GIVEN = "approach.sedative_given"
_START = "approach.sedation_start"
_STOP = "approach.sedation_stop"
_MINUTE_MS = 60000
_LIMIT = "sedation_obs_min"


@dataclass(frozen=True, slots=True)
class Point:
    """A moment at which the patient was seen, or sedation began or ended."""

    ms: int
    ids: tuple[str, ...]


def sedation_remarks(told: Told) -> list[Found]:
    """Return the longest gap that was, then the one that is now, beyond the limit.

    Without now an open record ends with its last observation.
    """
    minutes, start = number(told.limits.get(_LIMIT)), _start(told.fold)
    if minutes is None or start is None:
        return []
    stop = _stop(told.fold)
    rows = rows_of(told.fold, PATH, "indication.observations")
    seen = [
        Point(row.time_ms, (row.id,))
        for row in rows
        if row.time_ms >= start.ms and (stop is None or row.time_ms <= stop.ms)
    ]
    points = [start, *seen, *([stop] if stop is not None else [])]
    most_ms = minutes * _MINUTE_MS
    gaps = [
        (after.ms - before.ms, (*before.ids, *after.ids))
        for before, after in pairwise(points)
        if after.ms - before.ms > most_ms
    ]
    found = [_found(told, *max(gaps, key=lambda gap: gap[0]), False)] if gaps else []
    if stop is None and told.now_ms is not None and not has_died(told.fold):
        since_ms = told.now_ms - points[-1].ms
        if since_ms > most_ms:
            found.append(_found(told, since_ms, points[-1].ids, True))
    return found


def _found(told: Told, gap_ms: int, ids: tuple[str, ...], stands: bool) -> Found:
    values = {"elapsed": elapsed(seconds_of(gap_ms))}
    remark = Remark("sedation_unobserved", "look_again", values, (_LIMIT,))
    evidence = tuple(one for one in told.fold["order"] if one in ids)
    return Found(remark, PATH, "", evidence, stands)


def _start(fold: dict[str, Any]) -> Point | None:
    """Return the start said; else the first sedative, else when one was said given."""
    said = _moments(fold, _START)
    if said:
        return Point(min(said), entries_of(fold, (_START,)))
    drugs: list[Row] = [
        row
        for row in rows_of(fold, "approach.sedation_drug")
        if row.value.get("reversal") != "yes"
    ]
    if drugs:
        return Point(drugs[0].time_ms, in_order(drugs[:1]))
    if "yes" in heads(fold, _GIVEN):
        ids = entries_of(fold, (_GIVEN,))
        return Point(min(int(fold["entries"][one]["time_ms"]) for one in ids), ids)
    return None


def _stop(fold: dict[str, Any]) -> Point | None:
    said = _moments(fold, _STOP)
    return Point(max(said), entries_of(fold, (_STOP,))) if said else None


def _moments(fold: dict[str, Any], path: str) -> list[int]:
    told = [moment_ms(value) for value in heads(fold, path)]
    return [ms for ms in told if ms is not None]
