"""Since when a wire paces asynchronously, and settings that contradict themselves.

Source: fixtures/sources.md#clinical-11.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from webapp.clinical.left_at import PARTS
from webapp.clinical.mode import mode_of
from webapp.clinical.rows import Row, point, rows_of


@dataclass(frozen=True, slots=True)
class Asynchronous:
    """`since_ms`: of the first settings that still stand so; `ids`: their rows."""

    since_ms: int
    ids: tuple[str, ...]


def settings_rows(fold: dict[str, Any], wire: str) -> list[Row]:
    """Return every row of settings read back for a wire, in time."""
    return rows_of(fold, *(f"wires/{wire}/{part}.dial_left_at" for part in PARTS))


def asynchronous(fold: dict[str, Any], wire: str) -> Asynchronous | None:
    """Return since when a wire paces without sensing, or None."""
    run = unsensed(settings_rows(fold, wire))
    if not run:
        return None
    places = sorted(run, key=lambda row: row.place)
    return Asynchronous(run[0].time_ms, tuple(row.id for row in places))


def unsensed(rows: Iterable[Row]) -> list[Row]:
    """Return the rows, in time, that leave a wire without sensing up to the last.

    Mode and sensitivity each stand until they are told anew; rows that tell neither
    change nothing. Asynchronous told beside such a mode is the mode's own word, and
    ends with it.
    """
    mode_is = sense_is = False
    run: list[Row] = []
    for row in rows:
        mode, sense = mode_of(row.value.get("mode")), told_asynchronous(row)
        if mode is None and sense is None:
            continue
        if mode is not None:
            mode_is = mode.is_asynchronous
        if sense is not None:
            sense_is = sense and not mode_is
        run = [*run, row] if mode_is or sense_is else []
    return run


def told_asynchronous(row: Row) -> bool | None:
    """Return what a row says of sensing: asynchronous, a sensitivity, or nothing."""
    told = row.value.get("asynchronous")
    if told == "yes":
        return True
    has_number = point(row.value.get("sensitivity"), "mV").n is not None
    return False if told == "no" or has_number else None
