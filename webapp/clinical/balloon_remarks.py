"""What is found about the balloon: near the sheath, still up, up at the end, no air.

Source: fixtures/sources.md#clinical-5, #domain-2.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.balloon import (
    AT_END,
    STILL_UP,
    balloon_told,
    last_state,
    pulled_back_up,
)
from webapp.clinical.balloon import Told as BalloonTold
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found, at_row
from webapp.clinical.over import heads, is_over
from webapp.clinical.read_at import AT_HUB
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import one_answer, point, rows_of
from webapp.clinical.told import Told
from webapp.clinical.way import in_order, runs, when

_CLEAR_KEY = "balloon_clear_of_sheath_cm"
_FINISH = ("finish.outcome", "finish.dressing_on", AT_END)


def balloon_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on its balloon."""
    return [
        found
        for wire in told.wires
        for part in (_up_at_end, _still_up, _no_air_back, _near_sheath)
        for found in part(told, wire)
    ]


def _up_at_end(told: Told, wire: str) -> list[Found]:
    """Say that the balloon was last marked up, once the end is being told."""
    said = _last_up(told, wire)
    if said is None or not any(heads(told.fold, path) for path in _FINISH):
        return []
    whose, alike = wire, [wire]
    if said.path == AT_END and len(told.wires) > 1:
        # Asked once for all wires: it is told once, for none of them alone.
        whose, alike = "", [one for one in told.wires if _last_up(told, one) == said]
    if wire not in alike[:1]:
        return []
    remark = Remark("balloon_up_at_end", "look_now", asks="balloon_at_end")
    stands = not all(is_over(told.fold, one) for one in alike)
    return [Found(remark, AT_END, whose, (said.id,), stands)]


def _last_up(told: Told, wire: str) -> BalloonTold | None:
    """Return what last told of a wire's balloon, where that was "up"."""
    said = last_state(balloon_told(told.fold, wire))
    return said if said is not None and said.state == "up" else None


def _still_up(told: Told, wire: str) -> list[Found]:
    """Say that a wire was read shallower with the balloon last marked up."""
    said = balloon_told(told.fold, wire)
    pulled = pulled_back_up(said)
    found = []
    for one in pulled:
        depth = one.at.depth
        if depth is None:
            continue
        values = {"before": decimal(one.before), "depth": decimal(depth)}
        later = [x for x in said if x.when > one.at.when]
        stands = one is pulled[-1] and not any(x.state not in STILL_UP for x in later)
        stands = stands and not is_over(told.fold, wire)
        ids = in_order(told.fold, (one.marked_by, one.at.id))
        remark = Remark("balloon_still_up", "look_now", values)
        found.append(Found(remark, one.at.path, wire, ids, stands))
    return found


def _no_air_back(told: Told, wire: str) -> list[Found]:
    rows = rows_of(told.fold, f"wires/{wire}/advance.balloon")
    back = [when(row) for row in rows if row.value.get("air_back") == "yes"]
    remark = Remark("balloon_no_air_back", "look_now", asks="change_catheter")
    return [
        at_row(
            remark,
            row,
            wire,
            not any(at > when(row) for at in back) and not is_over(told.fold, wire),
        )
        for row in rows
        if row.value.get("air_back") == "no"
    ]


def _near_sheath(told: Told, wire: str) -> list[Found]:
    """Return where the balloon was marked up too near the sheath; silent without it."""
    clear = number(told.limits.get(_CLEAR_KEY))
    told_length = one_answer(told.fold, f"wires/{wire}/approach.introducer_length")
    length = number(point(told_length, "cm").n)
    if clear is None or length is None:
        return []
    said = balloon_told(told.fold, wire)
    depths = _hub_depths(said)
    is_near = [
        one.state == "up" and depth is not None and depth < length + clear
        for one, depth in zip(said, depths, strict=True)
    ]
    found = []
    for first, last in runs([near or None for near in is_near]):
        one, depth = said[last], depths[last]
        if depth is None:
            continue
        values = {"depth": decimal(depth), "length": decimal(length)}
        remark = Remark("balloon_near_sheath", "look_again", values, (_CLEAR_KEY,))
        stands = last == len(said) - 1 and not is_over(told.fold, wire)
        ids = in_order(told.fold, [x.id for x in said[first : last + 1]])
        found.append(Found(remark, one.path, wire, ids, stands))
    return found


def _hub_depths(said: list[BalloonTold]) -> list[Fraction | None]:
    """Return the depth at the hub known at each row: its own, else the one before."""
    found: list[Fraction | None] = []
    known: Fraction | None = None
    for one in said:
        if one.depth is not None:
            known = one.depth if one.read_at == AT_HUB else None
        found.append(known)
    return found
