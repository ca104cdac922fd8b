"""Times of day as the hospital's clock showed them, and who said what when."""

from __future__ import annotations

from datetime import UTC, datetime, timezone
from typing import Any
from zoneinfo import ZoneInfo

from webapp.catalogue.moments import offset_of, read_instant
from webapp.record.fold import corrected_ms
from webapp.say import say

MONTHS = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun",
    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip


def day_words(moment: datetime) -> str:
    """Return "24 Nov 2031"."""
    return f"{moment.day} {MONTHS[moment.month - 1]} {moment.year}"


def clock_words(moment: datetime) -> str:
    """Return "10:41"."""
    return f"{moment:%H:%M}"


def full_words(moment: datetime, zone: str) -> str:
    """Return day, time, offset and zone of an aware moment, for signatures."""
    local = moment.astimezone(ZoneInfo(zone))
    offset = f"{local:%z}"
    return (
        f"{day_words(local)}, {local:%H:%M:%S} (UTC{offset[:3]}:{offset[3:5]}, {zone})"
    )


def entry_time(meta: dict[str, Any]) -> datetime | None:
    """Return when an entry was made, its clock's known skew taken off."""
    at = meta["at"]
    if read_instant(at.get("utc")) is None:
        return None
    made = datetime.fromtimestamp(corrected_ms(at) // 1000, UTC)
    return made.astimezone(timezone(offset_of(at)))


def name_of(person: Any) -> str:
    """Return a person's name as the entry holds it; "" when nobody is named."""
    return str(person.get("name", "")) if isinstance(person, dict) else ""


def who_when(
    meta: dict[str, Any], main_day: str, initials: dict[str, str] | None = None
) -> str:
    """Return "10:41 N. Ness-Example"; the date too when it is not the main day.

    Who called it out, and that it was told or copied, follow where they differ.
    `initials`: name -> what is printed for it; None prints the names.
    """
    moment = entry_time(meta)
    told = []
    if moment is None:
        told.append(say("note.no_time"))
    else:
        if moment.date().isoformat() != main_day:
            told.append(_day(moment, main_day))
        told.append(clock_words(moment))
    author, called = name_of(meta["author"]), name_of(meta["called_by"])
    shown = initials or {}
    told.append(shown.get(author, author) or say("note.nobody_named"))
    words = " ".join(told)
    if called and called != author:
        if initials is None:
            words += ", " + say("note.called_by", name=called)
        else:
            words += " " + say("note.called_short", name=shown.get(called, called))
    if meta["source"] not in ("seen", None):
        words += ", " + say(f"note.source.{meta['source']}")
    return words


def _day(moment: datetime, main_day: str) -> str:
    """Return the day, without its year when it is the main day's."""
    if moment.date().isoformat()[:4] == main_day[:4]:
        return f"{moment.day} {MONTHS[moment.month - 1]}"
    return day_words(moment)
