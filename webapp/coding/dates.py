"""Moments of the record as dates and times of the hospital, for codes and exports."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from webapp.catalogue.moments import read_instant
from webapp.record.case import Case

STARTS = ("approach.first_puncture",)
STOPS = ("finish.dressing_on",)


@dataclass(frozen=True, slots=True)
class Span:
    """Start and stop of the procedure; None where the record does not say.

    `certainty`: exact, about, day, or "" without a start.
    """

    day: date | None
    start: datetime | None
    stop: datetime | None
    certainty: str


def local(moment: Any, zone: str) -> datetime | None:
    """Return a moment in hospital time, None when it has no hour.

    Never goes through another day: the instant is shifted, not the date.
    """
    at = read_instant(moment.get("utc")) if isinstance(moment, dict) else None
    return at.astimezone(ZoneInfo(zone)) if at else None


def local_day(moment: Any, zone: str) -> date | None:
    """Return the hospital's calendar day of a moment, None when it has none."""
    if isinstance(moment, dict) and moment.get("certainty") == "day":
        try:
            return date.fromisoformat(str(moment.get("day")))
        except ValueError:
            return None
    at = local(moment, zone)
    return at.date() if at else None


def span_of(case: Case, zone: str) -> Span:
    """Return when the procedure ran: first puncture to dressing on.

    Without a first puncture the day is that of the dressing; no hour is inferred.
    """
    start, stop = _first(case, STARTS), _first(case, STOPS)
    day = local_day(start, zone) or local_day(stop, zone)
    if not isinstance(start, dict):
        return Span(day, None, local(stop, zone), "")
    if start.get("certainty") == "day":
        return Span(day, None, None, "day")
    about = "about" in (start.get("certainty"), (stop or {}).get("certainty"))
    certainty = "about" if about else "exact"
    return Span(day, local(start, zone), local(stop, zone), certainty)


def iso_minutes(at: datetime | None) -> str:
    """Return a time as ISO 8601 with offset, to the minute; "" for none."""
    return at.isoformat(timespec="minutes") if at else ""


def _first(case: Case, templates: tuple[str, ...]) -> Any:
    """Return the first answered moment of these fields, over the wires in order."""
    for template in templates:
        for path in case.paths_of(template):
            answer = case.answer(path)
            if answer.state == "answered":
                return answer.value
    return None
