"""When a patient was born, and how long before the first day of the record.

Source: fixtures/sources.md#clinical-15.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from typing import Any

from webapp.clinical.over import heads

_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_YEAR_MONTHS = 12  # calendar
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# Calendar: the first moment no date of either language can hold.
_YEAR_10000_MS = 253_402_300_800_000
_LAST_DAY = timedelta(milliseconds=_YEAR_10000_MS - 1)


def dated(fold: dict[str, Any]) -> list[dict[str, Any]]:
    """Return every birth date told that nobody has settled."""
    told = heads(fold, "patient.birth_date")
    return [one for one in told if isinstance(one, dict) and "date" in one]


def whole_months(fold: dict[str, Any]) -> Fraction | None:
    """Return whole months since birth on the first day; None without a birth date.

    Of several birth dates the latest.
    """
    day = first_day(fold)
    if day is None:
        return None
    born = [v["date"] for v in dated(fold)]
    dates = [one for one in born if isinstance(one, str) and _DAY.fullmatch(one)]
    date = max((one for one in dates if one <= day), default=None)
    if date is None:
        return None
    years = int(day[:4]) - int(date[:4])
    months = int(day[5:7]) - int(date[5:7])
    had_day = day[8:] >= date[8:]
    return Fraction(years * _YEAR_MONTHS + months - (0 if had_day else 1))


def years_between(born: object, day: str) -> Fraction | None:
    """Return whole years from one ISO day to another, None where it runs backwards."""
    if not isinstance(born, str) or _DAY.fullmatch(born) is None or born > day:
        return None
    had_birthday = day[5:] >= born[5:]
    return Fraction(int(day[:4]) - int(born[:4]) - (0 if had_birthday else 1))


def first_day(fold: dict[str, Any]) -> str | None:
    """Return the local day of the first entry that says when it was made."""
    for entry_id in fold["order"]:
        meta = fold["entries"][entry_id]
        if 0 < meta["time_ms"] < _YEAR_10000_MS:
            offset = meta["at"].get("offset_min")
            minutes = offset if type(offset) is int and abs(offset) <= 1440 else 0
            local = timedelta(milliseconds=meta["time_ms"], minutes=minutes)
            return (_EPOCH + min(local, _LAST_DAY)).date().isoformat()
    return None
