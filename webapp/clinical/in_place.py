"""When a wire was placed, and when it was left in place.

Source: fixtures/sources.md#clinical-23.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from webapp.clinical.over import heads
from webapp.clinical.rows import moment_ms, one_answer, rows_of


def placed_ms(fold: dict[str, Any], wire: str) -> int | None:
    """Return when a wire was placed: as told of one that came with it, else here.

    Here: first read, else named where it is said to be in; of one that came nobody
    knows unless it is told.
    """
    under = f"wires/{wire}"
    told = moment_ms(one_answer(fold, f"{under}/approach.came_placed_at"))
    if told is not None:
        return told
    if "came_with_it" in heads(fold, f"{under}/approach.wire_came"):
        return None
    names = ("advance.depth_reading", "capture.output_reading", "capture.dial_left_at")
    seen = rows_of(fold, *(f"{under}/{name}" for name in names))
    is_in = bool(heads(fold, f"{under}/advance.final_depth"))
    # "No" and "can't tell" are answered while nothing is in place too.
    is_in = is_in or "yes" in heads(fold, f"{under}/capture.electrical_capture")
    named = rows_of(fold, "wires") if is_in else []
    own = [row for row in named if row.id == wire]
    return next((row.time_ms for row in (*seen, *own)), None)


def left_ms(fold: dict[str, Any], wire: str) -> int | None:
    """Return when the wire was left in place: dressing on, or final settings read."""
    rows = rows_of(fold, f"wires/{wire}/capture.dial_left_at")
    final = [row.time_ms for row in rows if row.value.get("when_kind") == "final"]
    return latest([moment_ms(one_answer(fold, "finish.dressing_on")), *final])


def latest(times: Iterable[int | None]) -> int | None:
    """Return the last of these Unix milliseconds that is known."""
    return max((ms for ms in times if ms is not None), default=None)
