"""Whether limits for adults apply to this patient.

Source: fixtures/sources.md#clinical-15.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from typing import Any

from webapp.clinical.exact import number
from webapp.clinical.rows import HARD_HEIGHT, ends_of, one_answer, point

_CHILD_BY_LOOK = ("newborn", "infant", "child", "adolescent")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_YEAR_MONTHS = 12  # calendar
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# Calendar: the first moment no date of either language can hold.
_YEAR_10000_MS = 253_402_300_800_000
_LAST_DAY = timedelta(milliseconds=_YEAR_10000_MS - 1)
# Calendar: days and hours of an ordinary year.
_PER_YEAR = {"a": Fraction(1), "d": Fraction(365), "h": Fraction(8760)}


@dataclass(frozen=True, slots=True)
class AgeClass:
    """`is_adult`: adult limits apply; `age_known`: from a birth date or an age."""

    is_adult: bool
    age_known: bool


@dataclass(frozen=True, slots=True)
class Size:
    """What is known of age and size; None where not known."""

    years: Fraction | None = None
    weight_kg: Fraction | None = None
    height_cm: Fraction | None = None
    by_look: str = ""


def age_class(size: Size, limits: Mapping[str, str]) -> AgeClass:
    """Return whether adult limits apply.

    Under `adult_from_years`: no. Age not known: no when lighter than `adult_from_kg`,
    shorter than `adult_from_cm`, or a child by look; else yes, "age not known".
    """
    if size.years is not None:
        return AgeClass(not _is_under(size.years, limits, "adult_from_years"), True)
    is_child = (
        _is_under(size.weight_kg, limits, "adult_from_kg")
        or _is_under(size.height_cm, limits, "adult_from_cm")
        or size.by_look in _CHILD_BY_LOOK
    )
    return AgeClass(not is_child, False)


def size_of(fold: dict[str, Any]) -> Size:
    """Return age and size as the record says them, on the day of its first entry."""
    weight = point(one_answer(fold, "patient.weight"), "kg").n
    height = point(one_answer(fold, "patient.height"), "cm", HARD_HEIGHT).n
    look = one_answer(fold, "patient.age_class")
    return Size(
        _years(fold),
        number(weight),
        number(height),
        look if isinstance(look, str) else "",
    )


def whole_months(fold: dict[str, Any]) -> Fraction | None:
    """Return whole months since birth on the first day; None without a birth date."""
    born, day = one_answer(fold, "patient.birth_date"), _first_day(fold)
    date = born.get("date") if isinstance(born, dict) else None
    if not isinstance(date, str) or _DAY.fullmatch(date) is None:
        return None
    if day is None or date > day:
        return None
    years = int(day[:4]) - int(date[:4])
    months = int(day[5:7]) - int(date[5:7])
    had_day = day[8:] >= date[8:]
    return Fraction(years * _YEAR_MONTHS + months - (0 if had_day else 1))


def _is_under(value: Fraction | None, limits: Mapping[str, str], key: str) -> bool:
    bound = number(limits.get(key))
    return value is not None and bound is not None and value < bound


def _years(fold: dict[str, Any]) -> Fraction | None:
    born = one_answer(fold, "patient.birth_date")
    day = _first_day(fold)
    if isinstance(born, dict) and "date" in born and day is not None:
        return _between(born["date"], day)
    told = one_answer(fold, "patient.estimated_age")
    for unit, per_year in _PER_YEAR.items():
        low, high = ends_of(told, unit)
        # Of a range its lower end counts: a limit for adults is never shown on a guess.
        known = low if low is not None else high
        if known is not None and known >= 0:
            return known / per_year
    return None


def _between(born: object, day: str) -> Fraction | None:
    """Return whole years from one ISO day to another, None where it runs backwards."""
    if not isinstance(born, str) or _DAY.fullmatch(born) is None or born > day:
        return None
    had_birthday = day[5:] >= born[5:]
    return Fraction(int(day[:4]) - int(born[:4]) - (0 if had_birthday else 1))


def _first_day(fold: dict[str, Any]) -> str | None:
    """Return the local day of the first entry that says when it was made."""
    for entry_id in fold["order"]:
        meta = fold["entries"][entry_id]
        if 0 < meta["time_ms"] < _YEAR_10000_MS:
            offset = meta["at"].get("offset_min")
            minutes = offset if type(offset) is int and abs(offset) <= 1440 else 0
            local = timedelta(milliseconds=meta["time_ms"], minutes=minutes)
            return (_EPOCH + min(local, _LAST_DAY)).date().isoformat()
    return None
