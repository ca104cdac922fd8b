"""ST at a reading: shifted in the atrium, or larger than a wire's contact gives.

Source: fixtures/sources.md#clinical-4, #domain-3.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.deep import still_lies
from webapp.clinical.exact import number
from webapp.clinical.found import Found, at_row
from webapp.clinical.guidance import st_mv
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, ends_of
from webapp.clinical.told import Told
from webapp.clinical.way import Look, looks_of, when

_LARGE_KEY = "st_perforation_prompt_mv"
_LEVEL = Fraction(0)


def st_in_atrium(told: Told, wire: str) -> list[Found]:
    """Return where ST is shifted while the pattern is atrial."""
    remark = Remark("st_in_atrium", "look_again")
    looks = looks_of(told.fold, wire)
    return [
        _found(told, wire, remark, look, looks)
        for look in looks
        if look.chamber == "ra" and _is_shifted(look.row)
    ]


def st_large(told: Told, wire: str) -> list[Found]:
    """Return where ST is above what permanent leads had before they perforated."""
    bound = number(told.limits.get(_LARGE_KEY))
    if bound is None:
        return []
    looks = looks_of(told.fold, wire)
    found = []
    for look in looks:
        mv = st_mv(_mm(look.row), look.row.value.get("st_gain"))
        size = number(mv)
        if mv is None or size is None or abs(size) <= bound:
            continue
        values = {"mv": mv, "limit": told.limits[_LARGE_KEY]}
        remark = Remark("st_large", "look_again", values, (_LARGE_KEY,))
        found.append(_found(told, wire, remark, look, looks))
    return found


def _found(
    told: Told, wire: str, remark: Remark, look: Look, looks: list[Look]
) -> Found:
    """Return a remark that stands until another pattern was read."""
    row = look.row
    later = any(one.chamber and when(one.row) > when(row) for one in looks)
    stands = not later and still_lies(told, wire, when(row))
    return at_row(remark, row, wire, stands)


def _mm(row: Row) -> str | None:
    """Return a shift in mm when it is one number; nothing is converted."""
    value = row.value.get("st_mm")
    low, high = ends_of(value, "mm")
    if low is None or low != high or not isinstance(value, dict) or "low" in value:
        return None
    return str(value["n"])


def _is_shifted(row: Row) -> bool:
    """Tell whether ST is surely off the line: "2", "> 1" and "1 to 2" are."""
    low, high = ends_of(row.value.get("st_mm"), "mm")
    above = low is not None and low > _LEVEL
    return above or (high is not None and high < _LEVEL)
