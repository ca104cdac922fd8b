"""The balloon's state as told with every depth, at the end and at every check.

Source: fixtures/sources.md#clinical-5.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.depth_moved import final_told
from webapp.clinical.read_at import AT_HUB, read_at
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.way import depth_of, when

AT_END = "finish.balloon_at_end"
_STATES = ("up", "down", "some_left", "not_balloon", "not_known")
# None of these says that it was let down.
STILL_UP = ("", "not_known", "up")
_GROUPS = (
    *("advance.depth_reading", "advance.resistance", "advance.balloon"),
    "checks.check",
)
# domain 2e: always deflated before withdrawing; clinical 5: any decrease from 1 cm.
DECREASE_CM = Fraction(1)


@dataclass(frozen=True, slots=True)
class Told:
    """One row that tells a state, a depth, or both. `state`: "" not said."""

    id: str
    path: str
    state: str
    depth: Fraction | None
    read_at: str
    when: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Pulled:
    """The wire went shallower while the balloon was last marked up."""

    at: Told
    before: Fraction
    marked_by: str


def balloon_told(fold: dict[str, Any], wire: str) -> list[Told]:
    """Return everything told of a wire's balloon and depth, in time."""
    under = f"wires/{wire}"
    rows = rows_of(fold, *(f"{under}/{group}" for group in _GROUPS))
    told = [*map(_told, rows), *_finals(fold, wire), *_at_end(fold)]
    return sorted(told, key=lambda one: one.when)


def last_state(told: list[Told]) -> Told | None:
    """Return what told the balloon's state last, or None."""
    said = [one for one in told if one.state]
    return said[-1] if said else None


def pulled_back_up(told: list[Told]) -> list[Pulled]:
    """Return each decrease of depth, 1 cm or more, while last marked up.

    Like is compared with like; small steps back add up.
    """
    found: list[Pulled] = []
    state, marked_by = "", ""
    last: dict[str, Fraction] = {}
    peaks: dict[str, Fraction] = {}
    for one in told:
        is_still_up = state == "up" and one.state in STILL_UP
        peak = peaks.get(one.read_at)
        if is_still_up and one.depth is not None and peak is not None:
            if one.depth <= peak - DECREASE_CM:
                found.append(Pulled(one, peak, marked_by))
                peak = one.depth
            peaks[one.read_at] = max(peak, one.depth)
        elif one.depth is not None:
            peaks[one.read_at] = one.depth
        if one.depth is not None:
            last[one.read_at] = one.depth
        if one.state not in ("", "not_known", state):
            state, marked_by, peaks = one.state, one.id, dict(last)
    return found


def _told(row: Row) -> Told:
    name = "state" if row.path.endswith("/advance.balloon") else "balloon"
    return Told(
        row.id,
        row.path,
        _state(row.value.get(name)),
        depth_of(row),
        read_at(row.value),
        when(row),
    )


def _finals(fold: dict[str, Any], wire: str) -> list[Told]:
    """Return the depth that Advance ends with, as a depth told when it was entered."""
    path = f"wires/{wire}/advance.final_depth"
    return [
        Told(
            entry,
            path,
            "",
            read.depth,
            read.read_at,
            _entered(fold, entry, fold["order"].index(entry)),
        )
        for entry, read in final_told(fold, wire)
    ]


def _state(value: object) -> str:
    if isinstance(value, dict) and value.get("absent") == "not_known":
        return "not_known"
    return value if isinstance(value, str) and value in _STATES else ""


def _at_end(fold: dict[str, Any]) -> list[Told]:
    """Return what was told at the end; of two answers "up" is the last word."""
    heads = fold["values"].get(AT_END, [])
    entries = [(entry, _state(h["value"])) for h in heads for entry in h["entries"]]
    order = fold["order"]
    latest = max((order.index(entry) for entry, _ in entries), default=0)
    return [
        Told(entry, AT_END, state, None, AT_HUB, _entered(fold, order[latest], latest))
        for entry, state in sorted(entries, key=lambda one: one[1] == "up")
        if state
    ]


def _entered(fold: dict[str, Any], entry: str, place: int) -> tuple[int, int]:
    return fold["entries"][entry]["time_ms"], place
