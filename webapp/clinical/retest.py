"""What makes a threshold one that stood: after it the margin is unknown until re-test.

Source: fixtures/sources.md#clinical-14.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.clinical.depth_moved import DepthRead, depth_compared
from webapp.clinical.depths_told import Said, depths_told
from webapp.clinical.exact import number
from webapp.clinical.left_at import PARTS
from webapp.clinical.rows import rows_of

HOUR_MS = 3_600_000
# A battery is changed behind a running generator; it is not in the list of section 14.
_CHANGES = ("resecured", "repositioned", "cable", "generator", "balloon")
_BALLOON = ("up", "down", "some_left")
_TELL_TEST = ("threshold_test", "output_reading")


@dataclass(frozen=True, slots=True)
class Change:
    """One thing after which a test no longer counts.

    `code`: what it was; `place`: in the record's order, where two times are equal;
    `test`: time and place of the one test that it ends, None where it ends all before.
    """

    code: str
    time_ms: int
    place: int
    test: tuple[int, int] | None = None


def changes(fold: dict[str, Any], wire: str, limits: Mapping[str, str]) -> list[Change]:
    """Return every change of one wire's position, parts or balloon, in time."""
    under = f"wires/{wire}"
    told = [
        Change(row.value["what"], row.time_ms, row.place)
        for row in rows_of(fold, f"{under}/capture.changed")
        if row.value.get("what") in _CHANGES
    ]
    passes = rows_of(fold, f"{under}/advance.new_pass")
    told += [Change("repositioned", row.time_ms, row.place) for row in passes]
    generators = rows_of(fold, f"{under}/capture.generator")
    told += [Change("generator", row.time_ms, row.place) for row in generators[1:]]
    looks = depths_told(fold, wire)
    paths = [f"{under}/{part}.{name}" for part in PARTS for name in _TELL_TEST]
    for row in rows_of(fold, *paths):
        told += _moves_from(looks, (row.time_ms, row.place), limits)
    told += _moves(looks, limits) + _balloon_changes(looks)
    return sorted(told, key=lambda change: (change.time_ms, change.place))


def since(test_ms: int, test_place: int, told: list[Change]) -> Change | None:
    """Return the last change after a test's last reading, or None."""
    test = (test_ms, test_place)
    later = [change for change in told if (change.time_ms, change.place) > test]
    its_own = [change for change in later if change.test in (None, test)]
    return its_own[-1] if its_own else None


def is_old(test_ms: int, now_ms: int | None, limits: Mapping[str, str]) -> bool:
    """Tell whether a test is older than `threshold_stale_h`; not asked without now."""
    hours = number(limits.get("threshold_stale_h"))
    if now_ms is None or hours is None:
        return False
    return now_ms - test_ms > hours * HOUR_MS


def _moves(looks: list[Said], limits: Mapping[str, str]) -> list[Change]:
    """Return where a depth differs from the one before it, like compared with like,
    and where somebody said that the wire moved.
    """
    found: list[Change] = []
    last: dict[str, DepthRead] = {}
    for one in looks:
        has_moved = one.has_moved
        if one.depth is not None:
            before = last.get(one.depth.read_at)
            has_moved |= _differ(before, one.depth, limits)
            last[one.depth.read_at] = one.depth
        if has_moved:
            found.append(Change("depth", one.time_ms, one.place))
    return found


def _moves_from(
    looks: list[Said], test: tuple[int, int], limits: Mapping[str, str]
) -> list[Change]:
    """Return where a depth differs from the one a test was made at: small steps add up.

    That is the last of its reference point before the test, else the first after it.
    """
    found: list[Change] = []
    made_at: dict[str, DepthRead] = {}
    for one in looks:
        if one.depth is None:
            continue
        before = made_at.get(one.depth.read_at)
        if before is None or (one.time_ms, one.place) < test:
            made_at[one.depth.read_at] = one.depth
        elif _differ(before, one.depth, limits):
            found.append(Change("depth", one.time_ms, one.place, test))
    return found


def _differ(
    before: DepthRead | None, after: DepthRead, limits: Mapping[str, str]
) -> bool:
    return before is not None and depth_compared(before, after, limits) == "moved"


def _balloon_changes(looks: list[Said]) -> list[Change]:
    found: list[Change] = []
    before: Any = None
    for one in looks:
        if one.state not in _BALLOON:
            continue
        if before is not None and one.state != before:
            found.append(Change("balloon", one.time_ms, one.place))
        before = one.state
    return found
