"""Moments: exact, about, or a day; typed wall clocks, zones and clock changes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from webapp.catalogue.dates import is_day, is_iso_day, typed_day
from webapp.catalogue.model import Field
from webapp.catalogue.typed import LONGEST, is_said, trim, western
from webapp.catalogue.verdicts import OK, Verdict, found, illegal

CLOCKS = ("tablet", "wall", "server")
_UTC = re.compile(
    r"([0-9]{4})-([0-9]{2})-([0-9]{2})T"
    r"(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]\.[0-9]{3}Z"
)
_ZONE = re.compile(r"[A-Z][A-Za-z]*(?:[/_+-][A-Za-z0-9]+)*")
_ABOUT = re.compile(r"(?:about|ca\.?|~) *", re.IGNORECASE | re.ASCII)
_TIME = re.compile(r"([01]?[0-9]|2[0-3])[:.]([0-5][0-9])(?::([0-5][0-9]))?")
_PACKED_TIME = re.compile(r"([01][0-9]|2[0-3])([0-5][0-9])")
_OFFSET = re.compile(r" *([+-])(0[0-9]|1[0-4]):?([0-5][0-9])\Z")
_DAY_THEN_TIME = re.compile(r"(?:(.*?)(?:, *| +|T))?([0-9]+[.:][0-9.:]+)", re.DOTALL)
_DAY_YEARS = (1900, 2199)
_CLOCK_YEARS = (1970, 2199)
_STEP = timedelta(hours=24)
_EXACT = frozenset(("utc", "zone", "offset_min", "certainty", "clock"))


def is_utc(text: object) -> bool:
    """Tell whether `text` is an instant written 2031-11-24T10:41:07.123Z."""
    if not isinstance(text, str):
        return False
    match = _UTC.fullmatch(text)
    if match is None:
        return False
    year, month, day = map(int, match.groups())
    return _CLOCK_YEARS[0] <= year <= _CLOCK_YEARS[1] and is_day(year, month, day)


def read_instant(text: object) -> datetime | None:
    """Return the instant that `is_utc` takes, else None.

    A tablet whose clock broke may send any text as the time of an entry. What comes
    back here can be shifted to any zone without leaving the years Python knows.
    """
    if not isinstance(text, str) or not is_utc(text):
        return None
    return datetime.fromisoformat(text.removesuffix("Z") + "+00:00")


def offset_of(at: Mapping[str, Any]) -> timedelta:
    """Return how far the clock of an `at` was ahead of UTC; nothing when unreadable."""
    minutes = at.get("offset_min")
    if not isinstance(minutes, int) or isinstance(minutes, bool):
        return timedelta()
    return timedelta(minutes=minutes if -720 <= minutes <= 840 else 0)


def _is_within(day: str, years: tuple[int, int]) -> bool:
    return is_iso_day(day) and years[0] <= int(day[:4]) <= years[1]


def offset_min(zone: str, instant: datetime) -> int | None:
    """Return how far a zone's clocks are ahead of UTC; None: an unknown zone."""
    if _ZONE.fullmatch(zone) is None:
        return None
    try:
        offset = instant.astimezone(ZoneInfo(zone)).utcoffset()
    except (KeyError, ValueError, OSError):
        return None
    return None if offset is None else (int(offset.total_seconds()) + 30) // 60


def typed_time(text: str) -> tuple[int, int, int] | None:
    """Return hours, minutes, seconds of "10:41", "9.05", "1041", "10:41:07"."""
    match = _TIME.fullmatch(text) or _PACKED_TIME.fullmatch(text)
    if match is None:
        return None
    hour, minute, second = (*match.groups(), None)[:3]
    return int(hour or 0), int(minute or 0), int(second or 0)


def wall_moments(
    day: str,
    time: tuple[int, int, int],
    zone: str,
    certainty: str = "exact",
    clock: str = "wall",
) -> list[dict[str, Any]]:
    """Return every moment at which the clocks of `zone` showed that time.

    One as a rule; two in the hour that an autumn change repeats; none in the hour
    that a spring change leaves out, or for an unknown zone. `day`: "2031-11-24".
    """
    if not _is_within(day, _CLOCK_YEARS):
        return []
    wall = datetime.fromisoformat(day).replace(tzinfo=UTC) + timedelta(
        hours=time[0], minutes=time[1], seconds=time[2]
    )
    around = [offset_min(zone, wall + shift) for shift in (-_STEP, _STEP)]
    moments = []
    for offset in sorted({o for o in around if o is not None}, reverse=True):
        instant = wall - timedelta(minutes=offset)
        if offset_min(zone, instant) == offset and is_utc(utc_text(instant)):
            moments.append(_moment(instant, zone, offset, certainty, clock))
    return moments


def _moment(
    instant: datetime, zone: str, offset: int, certainty: str, clock: str
) -> dict[str, Any]:
    return {
        "utc": utc_text(instant),
        "zone": zone,
        "offset_min": offset,
        "certainty": certainty,
        "clock": clock,
    }


def utc_text(instant: datetime) -> str:
    """Return an instant as 2031-11-24T10:41:07.123Z."""
    text = instant.astimezone(UTC).isoformat(timespec="milliseconds")
    return text.removesuffix("+00:00") + "Z"


def read_moment(raw: str, today: str | None, zone: str | None) -> dict[str, Any]:
    """Return the moment that typed text gives; unreadable text is kept as typed.

    "24.11.2031" is a day; "10:41" is today, "24 Nov 2031 10:41" that day, on the
    wall clock of `zone`; "about 10:41" is about. In the hour an autumn change
    repeats only a typed offset ("02:30 +01:00") tells which: without it the text
    is not read, and the two moments of `wall_moments` are offered instead.
    """
    text = western(raw)
    unreadable = {"as": raw, "certainty": "unreadable"}
    if len(text) > LONGEST:
        return unreadable
    if is_utc(text):
        return _at(text, zone or "UTC") or unreadable
    day = typed_day(text, today)
    if day is not None and _is_within(day, _DAY_YEARS):
        return {"day": day, "certainty": "day"}
    about = _ABOUT.match(text)
    body = text[about.end() :] if about else text
    found_moments = _typed_wall(body, today, zone, "about" if about else "exact")
    return found_moments[0] if len(found_moments) == 1 else unreadable


def _at(utc: str, zone: str) -> dict[str, Any] | None:
    instant = datetime.fromisoformat(utc.removesuffix("Z") + "+00:00")
    offset = offset_min(zone, instant)
    if offset is None:
        return None
    return _moment(instant, zone, offset, "exact", "wall")


def _typed_wall(
    text: str, today: str | None, zone: str | None, certainty: str
) -> list[dict[str, Any]]:
    offset = _OFFSET.search(text)
    match = _DAY_THEN_TIME.fullmatch(text[: offset.start()] if offset else text)
    if match is None or zone is None:
        return []
    day = typed_day(match[1], today) if match[1] else today
    time = typed_time(match[2])
    if day is None or time is None:
        return []
    moments = wall_moments(day, time, zone, certainty)
    if offset is None:
        return moments
    minutes = (int(offset[2]) * 60 + int(offset[3])) * (1 if offset[1] == "+" else -1)
    return [m for m in moments if m["offset_min"] == minutes]


def check_moment(field: Field, value: object) -> Verdict:
    """Judge a JSON value of kind moment."""
    if not isinstance(value, dict):
        return illegal(field)
    if value.keys() == _EXACT:
        return OK if is_clock_time(value) else illegal(field)
    if frozenset(value) == {"as", "certainty"} and is_said(value["as"]):
        if value["certainty"] != "unreadable":
            return illegal(field)
        return found("impossible", field, "no_such_moment", typed=trim(value["as"]))
    told = frozenset(value) == {"day", "certainty"} and value["certainty"] == "day"
    if told and isinstance(value["day"], str) and _is_within(value["day"], _DAY_YEARS):
        return OK
    return illegal(field)


def is_clock_time(value: object) -> bool:
    """Tell whether a value is an exact or about moment, and nothing else."""
    if not isinstance(value, dict) or value.keys() != _EXACT:
        return False
    zone, offset = value["zone"], value["offset_min"]
    return (
        is_utc(value["utc"])
        and isinstance(zone, str)
        and _ZONE.fullmatch(zone) is not None
        and type(offset) is int
        and -720 <= offset <= 840
        and value["certainty"] in ("exact", "about")
        and value["clock"] in CLOCKS
    )


def local(moment: dict[str, Any]) -> datetime:
    """Return the wall clock of an exact or about moment, as it was shown there."""
    instant = datetime.fromisoformat(moment["utc"].removesuffix("Z") + "+00:00")
    return instant + timedelta(minutes=moment["offset_min"])
