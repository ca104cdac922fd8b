"""Deeper than a tip usually lies: the limit of a site and side, and resistance.

The limits are derived from pulmonary artery catheters. Source:
fixtures/sources.md#clinical-3, #domain-2.
"""

from __future__ import annotations

from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found, at_row
from webapp.clinical.over import is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.sites import site_code, site_side
from webapp.clinical.tips import Tip, seen_in_ventricle, tips_of
from webapp.clinical.told import Told
from webapp.clinical.way import count_before, in_order, passes_of, runs, when


def deep_limit_key(site: str, side: str) -> str:
    """Return the policy's key of a site and side, "" where there is none."""
    if not site:
        return ""
    return "deep_limit_cm." + (site if site == "femoral" else f"{site}_{side}")


def deep(told: Told, wire: str) -> list[Found]:
    """Return where a tip was at or beyond its limit.

    Look now without an RV pattern or capture in that pass, or with resistance.
    """
    key = deep_limit_key(*site_side(site_code(told.fold, wire)))
    limit = number(told.limits.get(key))
    if limit is None:
        return []
    tips = tips_of(told.fold, wire)
    kinds = [
        _kind(told, wire, tips, n) if tip.depth >= limit else None
        for n, tip in enumerate(tips)
    ]
    marks = [
        None if kind is None else (kind, tip.turn)
        for tip, kind in zip(tips, kinds, strict=True)
    ]
    found = []
    for first, last in runs(marks):
        tip, kind = tips[last], kinds[last]
        ids = in_order(told.fold, [one.id for one in tips[first : last + 1]])
        values = {"depth": decimal(tip.depth)}
        remark = (
            Remark("too_deep_coil", "look_now", values, (key,), "stop_film")
            if kind == "coil"
            else Remark("deeper_than_usual", "look_again", values, (key,), "image_deep")
        )
        stands = last == len(tips) - 1 and still_lies(told, wire, tip.when)
        found.append(Found(remark, tip.path, wire, ids, stands))
    return found


def still_lies(told: Told, wire: str, at: tuple[int, int]) -> bool:
    """Tell whether no new pass began since then, and the wire is not out."""
    passes = passes_of(told.fold, wire)
    return count_before(passes, at) == len(passes) and not is_over(told.fold, wire)


def resistance(told: Told, wire: str) -> list[Found]:
    """Return where a wire met resistance or could not be moved.

    It no longer stands once the wire was read elsewhere, or a new pass began.
    """
    tips = tips_of(told.fold, wire)
    remark = Remark("resistance", "look_now", asks="stop_film")
    return [
        at_row(
            remark,
            row,
            wire,
            still_lies(told, wire, when(row)) and not _has_moved(tips, row),
        )
        for row in _resistance_rows(told, wire)
    ]


def _kind(told: Told, wire: str, tips: list[Tip], n: int) -> str:
    """Return what a depth beyond the limit is taken for, by what its pass has shown."""
    passes = passes_of(told.fold, wire)
    until = tips[n + 1].when if n + 1 < len(tips) else None

    def is_shown(at: tuple[int, int]) -> bool:
        is_in_time = until is None or at < until
        return is_in_time and count_before(passes, at) == tips[n].turn

    if any(is_shown(when(row)) for row in _resistance_rows(told, wire)):
        return "coil"
    seen = seen_in_ventricle(told.fold, wire)
    return "deep" if any(is_shown(at) for at in seen) else "coil"


def _resistance_rows(told: Told, wire: str) -> list[Row]:
    return rows_of(told.fold, f"wires/{wire}/advance.resistance")


def _has_moved(tips: list[Tip], row: Row) -> bool:
    before = [tip.depth for tip in tips if tip.when <= when(row)]
    after = [tip.depth for tip in tips[len(before) :]]
    return bool(before) and any(depth != before[-1] for depth in after)
