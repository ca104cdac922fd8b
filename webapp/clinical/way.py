"""What was read while a wire went in, in time and in passes.

Source: fixtures/sources.md#clinical-3, #clinical-4, #clinical-7.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.exact import number
from webapp.clinical.read_at import read_at
from webapp.clinical.rhythm import pads_of
from webapp.clinical.rows import Row, point, rows_of

# Which chamber a result tells; what is not here (unclear, no capture) tells none.
# "Above RV" stands in for the atrial keys where there are no P waves.
CHAMBERS = {
    "svc": "svc",
    "ivc": "ivc",
    **dict.fromkeys(("high_ra", "mid_ra", "low_ra", "ra", "p_captured"), "ra"),
    "above_rv": "ra",
    **dict.fromkeys(("rv_free", "rv_contact", "across_valve", "rv_apex"), "rv"),
    **dict.fromkeys(("rv_other", "qrs_captured"), "rv"),
    "outflow_pa": "outflow",
}


@dataclass(frozen=True, slots=True)
class Look:
    """One depth reading. `depth`: cm, None where it is no one number; `read_at`: hub
    unless said; `chamber`: "" where the result tells none; `turn`: which pass, from 0.
    """

    row: Row
    depth: Fraction | None
    read_at: str
    result: str
    chamber: str
    turn: int


def looks_of(fold: dict[str, Any], wire: str) -> list[Look]:
    """Return a wire's depth readings in time.

    A pattern read while pads pace counts as unclear: whose beat is it?
    """
    passes, pads = passes_of(fold, wire), pads_of(fold)
    return [
        _look(row, count_before(passes, when(row)), pads.is_pacing_at(row.time_ms))
        for row in rows_of(fold, f"wires/{wire}/advance.depth_reading")
    ]


def passes_of(fold: dict[str, Any], wire: str) -> list[Row]:
    """Return where a new pass began, in time."""
    return rows_of(fold, f"wires/{wire}/advance.new_pass")


def count_before(rows: Sequence[Row], at: tuple[int, int]) -> int:
    """Return how many rows lie before a moment; of passes: which it is of, from 0."""
    return sum(when(one) < at for one in rows)


def when(row: Row) -> tuple[int, int]:
    """Return what rows are ordered by: their time, then their place in the record."""
    return row.time_ms, row.place


def depth_of(row: Row) -> Fraction | None:
    """Return a row's depth, cm, or None where it is no one possible number."""
    return number(point(row.value.get("depth"), "cm").n)


def text_of(row: Row, name: str) -> str:
    """Return a row's answer that is one code, else ""."""
    told = row.value.get(name)
    return told if isinstance(told, str) else ""


def in_order(fold: dict[str, Any], ids: Sequence[str]) -> tuple[str, ...]:
    """Return these entry ids once each, in the record's order."""
    wanted = set(ids)
    return tuple(one for one in fold["order"] if one in wanted)


def runs(marks: Sequence[object]) -> list[tuple[int, int]]:
    """Return first and last place of each run of one mark; None is no mark."""
    found: list[tuple[int, int]] = []
    for n, mark in enumerate(marks):
        if mark is None:
            continue
        if n and marks[n - 1] == mark:
            found[-1] = (found[-1][0], n)
        else:
            found.append((n, n))
    return found


def _look(row: Row, turn: int, pads_pace: bool) -> Look:
    result = "unclear" if pads_pace else text_of(row, "result")
    chamber = CHAMBERS.get(result, "")
    return Look(row, depth_of(row), read_at(row.value), result, chamber, turn)
