"""Every place that tells how deep a wire lies or how its balloon is, in time.

Source: fixtures/sources.md#clinical-14.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from webapp.clinical.balloon import AT_END
from webapp.clinical.depth_moved import DepthRead, depth_read, final_told
from webapp.clinical.rows import Row, moment_ms, rows_of

_GROUPS = (
    *("advance.depth_reading", "advance.resistance", "advance.balloon"),
    *("checks.check", "handover.receiver_reads"),
)


@dataclass(frozen=True, slots=True)
class Said:
    """`state`: the balloon's as kept; `has_moved`: somebody said that it moved."""

    time_ms: int
    place: int
    depth: DepthRead | None = None
    state: Any = None
    has_moved: bool = False


def depths_told(fold: dict[str, Any], wire: str) -> list[Said]:
    """Return everything told of a wire's depth and balloon, in time.

    An answer's moment is that of its entry; of two answers each was told.
    """
    rows = rows_of(fold, *(f"wires/{wire}/{group}" for group in _GROUPS))
    found = [_of_row(row) for row in rows]
    for entry, depth in final_told(fold, wire):
        found.append(Said(*entered(fold, entry), depth))
    for head in fold["values"].get(AT_END, []):
        for entry in head["entries"]:
            found.append(Said(*entered(fold, entry), state=head["value"]))
    found += _on_the_way(fold, wire)
    return sorted(found, key=lambda one: (one.time_ms, one.place))


def entered(fold: dict[str, Any], entry: str) -> tuple[int, int]:
    """Return an entry's corrected time, and its place in the record."""
    return fold["entries"][entry]["time_ms"], fold["order"].index(entry)


def _of_row(row: Row) -> Said:
    state = row.value.get("balloon", row.value.get("state"))
    has_moved = row.value.get("moved") == "yes"
    depth = depth_read(row.value, (row.id,))
    return Said(row.time_ms, row.place, depth, state, has_moved)


def _on_the_way(fold: dict[str, Any], wire: str) -> Iterator[Said]:
    """Return the depths before and after each transfer that may be this wire's.

    Where it is not said which of several wires, they are held against each other alone.
    """
    for row in rows_of(fold, "handover.transfer"):
        whose = _whose(fold, row)
        if whose not in ("", wire):
            continue
        arrived = moment_ms(row.value.get("arrived_at"))
        after_ms = row.time_ms if arrived is None else arrived
        left = moment_ms(row.value.get("left_at"))
        before_ms = after_ms if left is None else min(left, after_ms)
        for name, ms in (("depth_before", before_ms), ("depth_after", after_ms)):
            depth = depth_read({"depth": row.value.get(name)}, (row.id,))
            if depth is not None:
                at = depth.read_at if whose else row.id
                yield Said(ms, row.place, replace(depth, read_at=at))


def _whose(fold: dict[str, Any], row: Row) -> str:
    """Return which wire a transfer tells of: the only one, the one named, or ""."""
    wires = rows_of(fold, "wires")
    told = _name(row.value.get("wire"))
    named = [one for one in wires if told and _name(one.value.get("name")) == told]
    only = wires if len(wires) == 1 else named
    return only[0].id if len(only) == 1 else ""


def _name(value: object) -> str:
    return value.strip(" ").lower() if isinstance(value, str) else ""
