"""Whether a wire moved since it was last looked at; only like is compared with like.

Source: fixtures/sources.md#clinical-3.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.over import is_over
from webapp.clinical.read_at import read_at
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, one_answer, point, rows_of
from webapp.clinical.shown import shown
from webapp.clinical.told import Told

Compared = Literal["", "same", "moved", "not_comparable"]
_EXACT = ("ruler", "on_ring")


@dataclass(frozen=True, slots=True)
class DepthRead:
    """`depth`: cm; `read_at`: measured from; `is_exact`: by ruler or on a ring."""

    depth: Fraction
    read_at: str
    is_exact: bool
    shown: str
    ids: tuple[str, ...]


def depth_compared(
    before: DepthRead, after: DepthRead, limits: Mapping[str, str]
) -> Compared:
    """Return whether a wire moved. Both read exactly: `depth_moved_ruler_cm` and more;
    else `depth_moved_estimated_cm`. Of different reference points: never a difference.
    """
    if before.read_at != after.read_at:
        return "not_comparable"
    bound = number(limits.get(moved_key(before, after)))
    if bound is None:
        return ""
    return "moved" if abs(after.depth - before.depth) >= bound else "same"


def moved_key(before: DepthRead, after: DepthRead) -> str:
    """Return the limit by which two depths are compared."""
    both = before.is_exact and after.is_exact
    return "depth_moved_ruler_cm" if both else "depth_moved_estimated_cm"


def depth_read(value: Mapping[str, Any], ids: tuple[str, ...]) -> DepthRead | None:
    """Return a depth as read, None where it holds no possible number."""
    found = point(value.get("depth"), "cm").n
    exact = number(found)
    if found is None or exact is None:
        return None
    is_exact = value.get("read_how") in _EXACT
    return DepthRead(exact, read_at(value), is_exact, shown(found), ids)


def final_depth(fold: dict[str, Any], wire: str) -> DepthRead | None:
    """Return the depth that Advance ends with, where there is one answer."""
    heads = fold["values"].get(f"wires/{wire}/advance.final_depth", [])
    told = final_told(fold, wire)
    if len(heads) != 1 or not told:
        return None
    return replace(told[0][1], ids=tuple(heads[0]["entries"]))


def final_told(fold: dict[str, Any], wire: str) -> list[tuple[str, DepthRead]]:
    """Return each entry that tells the final depth, and the depth; of two answers both.

    Two answers to where it was read leave that point not known.
    """
    under = f"wires/{wire}/advance"
    points = [
        head["value"] for head in fold["values"].get(f"{under}.final_read_at", [])
    ]
    how = one_answer(fold, f"{under}.final_read_how")
    found = []
    for head in fold["values"].get(f"{under}.final_depth", []):
        at = points if len(points) > 1 else next(iter(points), None)
        value = {"depth": head["value"], "read_at": at, "read_how": how}
        for entry in head["entries"]:
            depth = depth_read(value, (entry,))
            found += [(entry, depth)] if depth else []
    return found


def depth_looks(fold: dict[str, Any], wire: str) -> list[tuple[Row, DepthRead]]:
    """Return every depth read on the way in and at checks, in time."""
    under = f"wires/{wire}"
    rows = rows_of(fold, f"{under}/advance.depth_reading", f"{under}/checks.check")
    read = [(row, depth_read(row.value, (row.id,))) for row in rows]
    return [(row, depth) for row, depth in read if depth is not None]


def depth_remarks(told: Told, wire: str) -> list[Found]:
    """Return each check at which the wire had moved since the last like reading.

    The final depth stands in place of the readings on the way in.
    """
    looks = depth_looks(told.fold, wire)
    checks = [one for one in looks if one[0].path.endswith("/checks.check")]
    final = final_depth(told.fold, wire)
    on_way = [depth for row, depth in looks if not row.path.endswith("/checks.check")]
    last = {d.read_at: d for d in ([final] if final else on_way)}
    found: list[Found] = []
    for row, depth in checks:
        before = last.get(depth.read_at)
        last[depth.read_at] = depth
        if before and depth_compared(before, depth, told.limits) == "moved":
            values = {"before": before.shown, "after": depth.shown}
            key = (moved_key(before, depth),)
            stands = row is checks[-1][0] and not is_over(told.fold, wire)
            remark = Remark("depth_moved", "look_again", values, key)
            ids = (*before.ids, *depth.ids)
            found.append(Found(remark, row.path, wire, ids, stands))
    return found
