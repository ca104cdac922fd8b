"""Critical-care minutes: one person, one calendar date, with every overlap shown.

Sources: coding rules, section 2b. Minutes belong to one named person on one date at
the hospital; an overlap is counted and asked about, never taken away. Of the two
rules for further units, 75 is the publisher's and 104 that of CMS (87 FR 69404 of
2022-11-18 and MM12982: 74 + 30 = 104).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from webapp.coding.dates import Span, local, local_day
from webapp.record.case import Case, Row

PATH = "finish.critical_care"
UNIT_MIN = 30
PUBLISHER_FROM_MIN = 75
CMS_FIRST_MIN, CMS_FROM_MIN = 74, 104


def further_units(minutes: int) -> int:
    """Return the further units of whole minutes by the publisher's rule."""
    if minutes < PUBLISHER_FROM_MIN:
        return 0
    return (minutes - PUBLISHER_FROM_MIN) // UNIT_MIN + 1


def further_units_cms(minutes: int) -> int:
    """Return the further units of whole minutes by the rule of CMS."""
    return 0 if minutes < CMS_FROM_MIN else (minutes - CMS_FIRST_MIN) // UNIT_MIN


@dataclass(frozen=True, slots=True)
class Attended:
    """One recorded span; `start`, `stop`: UTC, None unless both have an hour, in order.

    `day`, `last_day`: the hospital's dates; a span that ends at 00:00 ends on the
    day before.
    """

    row: Row
    who: str
    start: datetime | None
    stop: datetime | None
    day: date | None
    last_day: date | None

    @property
    def minutes(self) -> int:
        """Return its whole minutes, 0 where they cannot be counted."""
        return self.shared_with(self.start, self.stop)

    def shared_with(self, start: datetime | None, stop: datetime | None) -> int:
        """Return how many whole minutes it shares with another span."""
        ends = (self.start, start), (self.stop, stop)
        if None in (*ends[0], *ends[1]):
            return 0
        first = max(at for at in ends[0] if at is not None)
        last = min(at for at in ends[1] if at is not None)
        return max(0, int((last - first).total_seconds() // 60))


@dataclass(frozen=True, slots=True)
class Attendance:
    """All spans of one person that began on one date, and everybody else's."""

    spans: tuple[Attended, ...]
    others: tuple[Attended, ...]

    @property
    def is_whole(self) -> bool:
        """Return whether every span can be counted."""
        return all(span.start is not None for span in self.spans)

    @property
    def is_over_midnight(self) -> bool:
        """Return whether a span ends on a later date than it began."""
        return any(span.day != span.last_day for span in self.spans)

    @property
    def minutes(self) -> int:
        """Return the whole minutes of the spans, just as recorded."""
        return sum(span.minutes for span in self.spans)

    @property
    def shared_with_people(self) -> int:
        """Return the minutes that another person's spans claim too."""
        return sum(
            s.shared_with(o.start, o.stop) for s in self.spans for o in self.others
        )

    @property
    def shared_by_own(self) -> int:
        """Return the minutes that two spans of this person both claim."""
        found = 0
        for number, one in enumerate(self.spans, start=1):
            own = (one.shared_with(s.start, s.stop) for s in self.spans[number:])
            found += sum(own)
        return found

    def shared_with_procedure(self, ran: bool, span: Span) -> int | None:
        """Return the minutes between first puncture and dressing on that it claims.

        `ran`: whether there was a procedure at all; None when its times, or those
        of a span, are not known.
        """
        if not ran:
            return 0
        if span.start is None or span.stop is None or not self.is_whole:
            return None
        start, stop = span.start.astimezone(UTC), span.stop.astimezone(UTC)
        return sum(s.shared_with(start, stop) for s in self.spans)


def attendances(case: Case, zone: str) -> Iterator[Attendance]:
    """Yield the spans of each person and date, in the record's order.

    Nobody named: each span stands alone.
    """
    spans = [_attended(row, zone) for row in case.rows(PATH)]
    by_key: dict[tuple[str, date | None], list[Attended]] = {}
    for span in spans:
        by_key.setdefault((span.who, span.day), []).append(span)
    for (who, _), own in by_key.items():
        yield Attendance(tuple(own), tuple(s for s in spans if s.who != who))


def identity_of(person: Any) -> str:
    """Return what tells one person from another, "" for nobody named."""
    if not isinstance(person, dict):
        return ""
    return str(person.get("person") or person.get("name") or "")


def is_same(one: Any, other: Any) -> bool:
    """Return whether two persons are one: by account where both have one."""
    if not isinstance(one, dict) or not isinstance(other, dict):
        return False
    by = "person" if one.get("person") and other.get("person") else "name"
    return bool(one.get(by)) and one.get(by) == other.get(by)


def _attended(row: Row, zone: str) -> Attended:
    who = identity_of(row.get("person")) or row.id
    # Instants, so that neither an autumn hour nor a zone bends what elapsed.
    start, stop = local(row.get("start"), "UTC"), local(row.get("stop"), "UTC")
    if start is None or stop is None or stop < start:
        return Attended(row, who, None, None, *_told_days(row, zone))
    zoned = ZoneInfo(zone)
    last = max(start, stop - timedelta(microseconds=1))
    first_day, last_day = (at.astimezone(zoned).date() for at in (start, last))
    return Attended(row, who, start, stop, first_day, last_day)


def _told_days(row: Row, zone: str) -> tuple[date | None, date | None]:
    day = local_day(row.get("start"), zone)
    told = row.get("day")
    if day is None and isinstance(told, dict):
        try:
            day = date.fromisoformat(str(told.get("date")))
        except ValueError:
            day = None
    return day, day
