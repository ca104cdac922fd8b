"""Calendar days: typed day first, and the kind "date"."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from webapp.catalogue.decimals import exact
from webapp.catalogue.model import Field
from webapp.catalogue.typed import LONGEST, ascii_lower, is_said, western
from webapp.catalogue.verdicts import OK, Verdict, found, illegal

_LONG = (
    *("january", "february", "march", "april", "may", "june", "july"),
    *("august", "september", "october", "november", "december"),
)
MONTHS = tuple(name[:3].capitalize() for name in _LONG)
_NAMED = {
    **{name: month for month, name in enumerate(_LONG, 1)},
    **{name[:3]: month for month, name in enumerate(_LONG, 1)},
    "sept": 9,
}
_DAY_FIRST = re.compile(
    r"([0-9]{1,2})(?: *[./-] *| +)([0-9]{1,2})(?: *[./-] *| +)([0-9]{4}|[0-9]{2})"
)
_WORD_MONTH = re.compile(
    r"([0-9]{1,2})(?:[. -] *)([A-Za-z]{3,9})(?:[. -] *)([0-9]{4}|[0-9]{2})"
)
_YEAR_FIRST = re.compile(r"([0-9]{4})[./-]([0-9]{1,2})[./-]([0-9]{1,2})")
_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_YEARS = (1000, 9999)
_DEFAULT_SPAN = ("0", "125")


def iso_day(year: int, month: int, day: int) -> str | None:
    """Return "1954-02-03", or None where the calendar has no such day."""
    if not _YEARS[0] <= year <= _YEARS[1]:
        return None
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        return None


def is_iso_day(text: object) -> bool:
    """Tell whether `text` is a day of the calendar, written 1954-02-03."""
    if not isinstance(text, str) or _ISO.fullmatch(text) is None:
        return False
    return is_day(int(text[:4]), int(text[5:7]), int(text[8:]))


def is_day(year: int, month: int, day: int) -> bool:
    """Tell whether the calendar has such a day, in a year of four figures."""
    return iso_day(year, month, day) is not None


def typed_day(raw: str, today: str | None = None) -> str | None:
    """Return the day a text names as "1954-02-03", or None.

    Day first, always: "3.2.1954", "03/02/1954", "3 Feb 1954"; or year first:
    "1954-02-03". "Feb 3 1954" and "02/13/1954" are not read. A year of two figures
    is the latest such day that is not after `today`; without `today` it is not read.
    """
    text = western(raw)
    if len(text) > LONGEST:
        return None
    if match := _YEAR_FIRST.fullmatch(text):
        return iso_day(int(match[1]), int(match[2]), int(match[3]))
    if match := _DAY_FIRST.fullmatch(text):
        return _with_year(match[3], int(match[2]), int(match[1]), today)
    if match := _WORD_MONTH.fullmatch(text):
        month = _NAMED.get(ascii_lower(match[2]), 0)
        return _with_year(match[3], month, int(match[1]), today)
    return None


def _with_year(year: str, month: int, day: int, today: str | None) -> str | None:
    if len(year) == 4:
        return iso_day(int(year), month, day)
    if today is None:
        return None
    century = int(today[:2]) * 100
    for start in (century, century - 100):
        found_day = iso_day(start + int(year), month, day)
        if found_day is not None and found_day <= today:
            return found_day
    return None


def read_date(raw: str, today: str | None) -> dict[str, Any]:
    """Return the value that typed text gives; an unreadable date has no `date`."""
    day = typed_day(raw, today)
    return {"as": raw} if day is None else {"as": raw, "date": day}


def check_date(field: Field, value: object, today: str | None) -> Verdict:
    """Judge a JSON value of kind date.

    `field.hard`: how many years before `today` it may lie, (0, 125) unless said:
    not in the future, nobody older than 125. Without `today` only the calendar is
    judged. A year typed with two figures that fits two centuries is remarked on.
    """
    if not _is_date(value):
        return illegal(field)
    assert isinstance(value, dict)  # noqa: S101  narrows the type only
    typed = value["as"]
    if "date" not in value:
        return found("impossible", field, "no_such_date", typed=typed)
    read = typed_day(typed, value["date"])
    if read is not None and read != value["date"]:
        return found("impossible", field, "contradicts_typed", typed=typed)
    return OK if today is None else _against(field, value, today)


def _is_date(value: object) -> bool:
    if not isinstance(value, dict) or not is_said(value.get("as")):
        return False
    if frozenset(value) == {"as"}:
        return True
    return frozenset(value) == {"as", "date"} and is_iso_day(value["date"])


def _against(field: Field, value: dict[str, Any], today: str) -> Verdict:
    low, high = (field.hard.low, field.hard.high) if field.hard else _DEFAULT_SPAN
    day, typed = value["date"], value["as"]
    if day > years_before(today, int(exact(low))):
        return found("impossible", field, "date_future", typed=typed)
    if day < years_before(today, int(exact(high))):
        return found("impossible", field, "date_too_old", typed=typed, years=high)
    earlier = years_before(day, 100)
    is_two_figures = str(day[:4]) not in western(typed)
    if is_two_figures and earlier >= years_before(today, int(exact(high))):
        return found("soft", field, "century_assumed", typed=typed, year=day[:4])
    return OK


def years_before(day: str, years: int) -> str:
    """Return the same day of the year `years` earlier, for comparing as text.

    29 February stays written so even where that year has none: only compared.
    """
    return f"{int(day[:4]) - years:04d}{day[4:]}"
