"""As at which time of day a remark was so: the clock time of what it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from webapp.catalogue.moments import is_clock_time, offset_of, read_instant, utc_text
from webapp.catalogue.words import moment_words
from webapp.record.fold import corrected_ms
from webapp.say import say


@dataclass(frozen=True, slots=True)
class AsAt:
    """`moment`: as the catalogue keeps one; `is_own`: told as the event's own moment.

    Not its own: when it was entered, which may be later.
    """

    moment: dict[str, Any]
    is_own: bool


def as_at(fold: dict[str, Any], evidence: Iterable[str]) -> AsAt | None:
    """Return the latest time of these entries, None when none holds a clock time.

    Own moments come before times of entry: a weight typed in the evening does not make
    a reading of the morning later.
    """
    found = [at for entry_id in evidence for at in _times(fold, entry_id)]
    own = [at for at in found if at.is_own]
    return max(own or found, key=lambda at: at.moment["utc"], default=None)


def as_at_words(at: AsAt | None, day: str) -> str:
    """Return "As at 14:10.", with the date when it is not `day` (ISO), "" for None."""
    if at is None:
        return ""
    key = "remarks.as_at" if at.is_own else "remarks.as_entered"
    return say(key, time=moment_words(at.moment, day))


def _times(fold: dict[str, Any], entry_id: str) -> Iterator[AsAt]:
    meta = fold["entries"].get(entry_id)
    if meta is None:
        return
    for value in _values(fold, meta["path"], entry_id):
        for moment in (value, value.get("moment")):
            if isinstance(moment, dict) and is_clock_time(moment):
                yield AsAt(moment, True)
                return
    entered = _entered(meta["at"])
    if entered is not None:
        yield AsAt(entered, False)


def _values(fold: dict[str, Any], path: str, entry_id: str) -> Iterator[dict[str, Any]]:
    rows = fold["rows"].get(path, [])
    said = [row["value"] for row in rows if row["id"] == entry_id]
    heads = fold["values"].get(path, [])
    said += [head["value"] for head in heads if entry_id in head["entries"]]
    return (value for value in said if isinstance(value, dict))


def _entered(at: dict[str, Any]) -> dict[str, Any] | None:
    """Return when an entry was made as a moment, its clock's known skew taken off."""
    if read_instant(at.get("utc")) is None:
        return None
    made = datetime.fromtimestamp(corrected_ms(at) // 1000, UTC)
    offset_min = int(offset_of(at).total_seconds()) // 60
    return {"utc": utc_text(made), "offset_min": offset_min, "certainty": "exact"}
