"""How much a balloon holds, beside its limit and what is stated on it.

Source: fixtures/sources.md#clinical-2, #domain-2.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from webapp.clinical.evidence import entries_of
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found
from webapp.clinical.over import is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import one_answer, point, rows_of
from webapp.clinical.told import Told

LIMIT_KEY = "balloon_volume_max_ml"
_KEYS: tuple[str, ...] = (LIMIT_KEY,)
AT_END = "finish.balloon_left_ml"
# The catalogue's hard range of a balloon's volume, mL.
HARD_ML = (Fraction(0), Fraction(3))


def balloon_volume(told: Told, wire: str) -> list[Found]:
    """Return volumes above the limit, or above what is stated on the wire."""
    limit = number(told.limits.get(LIMIT_KEY))
    path = f"wires/{wire}/approach.wire_balloon_ml"
    stated = _ml(one_answer(told.fold, path))
    stands = not is_over(told.fold, wire)
    found = []
    if stated is not None and limit is not None and stated > limit:
        remark = Remark("balloon_volume", "look_again", _values(stated, limit), _KEYS)
        ids = entries_of(told.fold, (path,))
        found.append(Found(remark, path, wire, ids, stands))
    filled = _filled(told, wire)
    for n, (where, ids, volume) in enumerate(filled):
        is_last = n == len(filled) - 1
        if limit is not None and volume > limit:
            values = _values(volume, limit)
            remark = Remark("balloon_over_limit", "look_again", values, _KEYS)
        elif stated is not None and volume > stated:
            values = _values(volume, stated)
            remark = Remark("balloon_over_stated", "look_again", values)
        else:
            continue
        found.append(Found(remark, where, wire, ids, stands and is_last))
    return found


def _filled(told: Told, wire: str) -> list[tuple[str, tuple[str, ...], Fraction]]:
    """Return each volume told to be in the balloon: path, entries, mL."""
    under = f"wires/{wire}/advance"
    found: list[tuple[str, tuple[str, ...], Fraction]] = []
    for row in rows_of(told.fold, f"{under}.depth_reading", f"{under}.balloon"):
        name = "left_ml" if row.path.endswith("/advance.balloon") else "balloon_ml"
        if (volume := _ml(row.value.get(name))) is not None:
            found.append((row.path, (row.id,), volume))
    at_end = _ml(one_answer(told.fold, AT_END)) if len(told.wires) == 1 else None
    if at_end is not None:
        found.append((AT_END, entries_of(told.fold, (AT_END,)), at_end))
    return found


def _ml(value: Any) -> Fraction | None:
    return number(point(value, "mL", HARD_ML).n)


def _values(volume: Fraction, bound: Fraction) -> dict[str, str]:
    return {"volume": decimal(volume), "bound": decimal(bound)}
