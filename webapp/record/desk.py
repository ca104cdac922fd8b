"""Entries written at the desk by a person who signed in."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlite_utils import Database

from webapp.catalogue.lookup import SETTLEMENTS
from webapp.db import writing
from webapp.record import desk_log
from webapp.record.entry import encode_body
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.record.records import refresh


class TooLong(ValueError):
    """More than one entry may carry, from the desk as from a tablet."""


@dataclass(frozen=True, slots=True)
class Writer:
    """Who writes at the desk, and in which role. `zone`: the hospital's."""

    person: str
    name: str
    role: str
    zone: str

    def as_json(self) -> dict[str, str]:
        """Return the person as entries name them."""
        return {"person": self.person, "name": self.name, "role": self.role}


def stamp(zone: str, now: datetime | None = None) -> dict[str, Any]:
    """Return the server's time as an entry's `at`."""
    moment = (now or datetime.now(UTC)).astimezone(UTC)
    offset = moment.astimezone(ZoneInfo(zone)).utcoffset()
    minutes = int(offset.total_seconds() // 60) if offset is not None else 0
    utc = moment.strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"
    return {"utc": utc, "zone": zone, "offset_min": minutes, "skew_ms": 0}


def body_of(
    writer: Writer,
    path: str,
    op: str,
    value: Any,
    seen: list[str] | None = None,
    at: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """Return the body of a desk entry. Does not write."""
    return {
        "path": path,
        "op": op,
        "value": value,
        "seen": seen or [],
        "at": at or stamp(writer.zone),
        "author": writer.as_json(),
        "entered_by": writer.as_json(),
        "called_by": None,
        "source": "seen",
        "how": "password",
        "salt": secrets.token_hex(16),
    }


def correct(
    db: Database,
    record: str,
    writer: Writer,
    path: str,
    value: Any,
    seen: list[str],
    because: str,
) -> str:
    """Keep an answer in the place of others, and why; return the answer's id.

    Raises TooLong: when either takes more bytes than an entry may.
    """
    body = body_of(writer, path, "set", value, seen)
    why = {"path": path, "because": because}
    longest = body_of(writer, SETTLEMENTS, "add", {**why, "entries": "0" * 37})
    if max(len(encode_body(one)) for one in (body, longest)) > MOST_ENTRY_BYTES:
        raise TooLong(path)
    with writing(db):
        entry_id = desk_log.append(db, record, body)
        settled = {**why, "entries": entry_id}
        told = body_of(writer, SETTLEMENTS, "add", settled)
        desk_log.append(db, record, told)
        refresh(db, [record])
    return entry_id


def write(
    db: Database,
    record: str,
    writer: Writer,
    path: str,
    op: str,
    value: Any,
    seen: list[str] | None = None,
) -> str:
    """Keep one desk entry and refold its record; return the entry's id.

    Raises TooLong: when it takes more bytes than an entry may.
    """
    body = body_of(writer, path, op, value, seen)
    if len(encode_body(body)) > MOST_ENTRY_BYTES:
        raise TooLong(path)
    with writing(db):
        entry_id = desk_log.append(db, record, body)
        refresh(db, [record])
    return entry_id
