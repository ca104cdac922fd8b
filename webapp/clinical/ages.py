"""Whether limits for adults apply to this patient.

Source: fixtures/sources.md#clinical-15.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.birth import dated, first_day, years_between
from webapp.clinical.exact import number
from webapp.clinical.over import heads
from webapp.clinical.rows import HARD, HARD_HEIGHT, ends_of

_CHILD_BY_LOOK = ("newborn", "infant", "child", "adolescent")
# Calendar: days and hours of an ordinary year.
_PER_YEAR = {"a": Fraction(1), "d": Fraction(365), "h": Fraction(8760)}
# Of "< 18" it is certain only that 18 is not reached: less by less than any step told.
_NOT_REACHED = Fraction(1, 8760)  # derived: an hour of a year (calendar)


@dataclass(frozen=True, slots=True)
class AgeClass:
    """`is_adult`: adult limits apply; `age_known`: from a birth date or an age."""

    is_adult: bool
    age_known: bool


@dataclass(frozen=True, slots=True)
class Size:
    """What is known of age and size; None where not known.

    `is_settled`: false where several answers tell of the age.
    """

    years: Fraction | None = None
    weight_kg: Fraction | None = None
    height_cm: Fraction | None = None
    by_look: str = ""
    is_settled: bool = True


def age_class(size: Size, limits: Mapping[str, str]) -> AgeClass:
    """Return whether adult limits apply.

    Under `adult_from_years`, by any answer: no. Age not known, two answers included: no
    when lighter than `adult_from_kg`,
    shorter than `adult_from_cm`, or a child by look; else yes, "age not known".
    """
    if size.years is not None and size.is_settled:
        return AgeClass(not _is_under(size.years, limits, "adult_from_years"), True)
    is_child = (
        _is_under(size.years, limits, "adult_from_years")
        or _is_under(size.weight_kg, limits, "adult_from_kg")
        or _is_under(size.height_cm, limits, "adult_from_cm")
        or size.by_look in _CHILD_BY_LOOK
    )
    return AgeClass(not is_child, False)


def size_of(fold: dict[str, Any]) -> Size:
    """Return age and size as the record says them, on the day of its first entry.

    Of several answers the lowest, of a range its lower end, of the looks a child's: a
    limit for adults is never shown on a guess.
    """
    weights = [_least(v, "kg", HARD["kg"]) for v in heads(fold, "patient.weight")]
    heights = [_least(v, "cm", HARD_HEIGHT) for v in heads(fold, "patient.height")]
    looks = [v for v in heads(fold, "patient.age_class") if isinstance(v, str)]
    by_look = [*(one for one in _CHILD_BY_LOOK if one in looks), *looks, ""]
    years, is_settled = _years(fold), _is_settled(fold)
    return Size(years, _lowest(weights), _lowest(heights), by_look[0], is_settled)


def _is_under(value: Fraction | None, limits: Mapping[str, str], key: str) -> bool:
    bound = number(limits.get(key))
    return value is not None and bound is not None and value < bound


def _years(fold: dict[str, Any]) -> Fraction | None:
    day = first_day(fold)
    born = [years_between(v["date"], day) for v in dated(fold) if day is not None]
    if born and len(fold["values"]["patient.birth_date"]) == 1:
        return born[0]
    told = [
        None if age is None else age / per_year
        for value in heads(fold, "patient.estimated_age")
        for unit, per_year in _PER_YEAR.items()
        for age in [_least(value, unit, None)]
    ]
    return _lowest([*born, *told])


def _least(
    value: Any, unit: str, hard: tuple[Fraction, Fraction] | None
) -> Fraction | None:
    """Return the lowest a quantity is for certain; under its upper end without one."""
    low, high = ends_of(value, unit)
    known = low if low is not None else high
    if known is None or known < 0:
        return None
    if hard is not None and not hard[0] <= known <= hard[1]:
        return None
    return known if low is not None else known - _NOT_REACHED


def _lowest(told: list[Fraction | None]) -> Fraction | None:
    return min((one for one in told if one is not None), default=None)


def _is_settled(fold: dict[str, Any]) -> bool:
    """Tell whether one answer alone tells of the age."""
    names = ("patient.birth_date", "patient.estimated_age")
    born, told = (len(fold["values"].get(name, [])) for name in names)
    return born <= 1 and (told <= 1 or bool(dated(fold)))
