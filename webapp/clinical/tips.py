"""Every depth told of a wire, from the first reading to the last pacing check.

Source: fixtures/sources.md#clinical-3.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.exact import number
from webapp.clinical.rhythm import pads_of
from webapp.clinical.rows import Row, point, rows_of
from webapp.clinical.way import (
    CHAMBERS,
    count_before,
    depth_of,
    passes_of,
    text_of,
    when,
)

_TELLING = (
    *("advance.depth_reading", "capture.output_reading"),
    *("checks.output_reading", "checks.check"),
)


@dataclass(frozen=True, slots=True)
class Tip:
    """One depth told. `when`: time and place in the record; `turn`: pass, from 0."""

    id: str
    path: str
    depth: Fraction
    when: tuple[int, int]
    turn: int


def tips_of(fold: dict[str, Any], wire: str) -> list[Tip]:
    """Return the depths of readings, resistance, the end and pacing checks, in time."""
    under = f"wires/{wire}"
    paths = ("advance.depth_reading", "advance.resistance", "checks.check")
    rows = rows_of(fold, *(f"{under}/{path}" for path in paths))
    passes = passes_of(fold, wire)
    told = [_tip(row, passes) for row in rows]
    found = [tip for tip in told if tip is not None] + _final(fold, under, passes)
    return sorted(found, key=lambda tip: tip.when)


def seen_in_ventricle(fold: dict[str, Any], wire: str) -> list[tuple[int, int]]:
    """Return when a wire showed an RV pattern or captured, not while pads paced."""
    under = f"wires/{wire}"
    pads = pads_of(fold)
    rows = rows_of(fold, *(f"{under}/{group}" for group in _TELLING))
    found = [when(row) for row in rows if _tells_ventricle(row)]
    for head in fold["values"].get(f"{under}/capture.electrical_capture", []):
        if head["value"] == "yes":
            found += [_entered(fold, entry) for entry in head["entries"]]
    return [at for at in found if not pads.is_pacing_at(at[0])]


def _tells_ventricle(row: Row) -> bool:
    result = text_of(row, "result")
    return (
        CHAMBERS.get(result) == "rv"
        or result == "captures"
        or row.value.get("electrical_capture") == "yes"
    )


def _tip(row: Row, passes: list[Row]) -> Tip | None:
    depth = depth_of(row)
    if depth is None:
        return None
    at = when(row)
    return Tip(row.id, row.path, depth, at, count_before(passes, at))


def _final(fold: dict[str, Any], under: str, passes: list[Row]) -> list[Tip]:
    """Return the final depth as one, unless there are two answers to it."""
    path = f"{under}/advance.final_depth"
    heads = fold["values"].get(path, [])
    if len(heads) != 1:
        return []
    depth = number(point(heads[0]["value"], "cm").n)
    if depth is None:
        return []
    entry = heads[0]["entries"][-1]
    at = _entered(fold, entry)
    return [Tip(entry, path, depth, at, count_before(passes, at))]


def _entered(fold: dict[str, Any], entry: str) -> tuple[int, int]:
    return fold["entries"][entry]["time_ms"], fold["order"].index(entry)
