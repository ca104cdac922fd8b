"""What was sent for a record and does not count, as far as each can still be read."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from sqlite_utils import Database

from webapp.apart import apart
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check
from webapp.catalogue.typed import visible
from webapp.catalogue.words import words
from webapp.record import not_kept
from webapp.record.entry import UnreadableHeader, decode_header
from webapp.record.keyring import Keyring
from webapp.record.log import LoggedEntry
from webapp.record.not_kept import NotKept
from webapp.record.ruling import read_body
from webapp.record.seal import CannotOpen, open_sealed
from webapp.record.wraps import Keys

LONGEST_TOLD = 2000


@dataclass(frozen=True, slots=True)
class Aside:
    """One entry that does not count. `how`: why it stands apart; `because`: in words.

    `label`, `op`, `told`, `author`, `entered_by`, `utc`: what it says, "" where it
    cannot be read; `is_in_log`: whether the list of all entries has it.
    """

    how: Literal["set_aside", "conflict", "refused"]
    because: str
    entry: str
    tablet: str
    label: str
    op: str
    told: str
    author: str
    entered_by: str
    utc: str
    is_in_log: bool


def aside(
    db: Database, keyring: Keyring, record: str, set_aside: Iterable[LoggedEntry]
) -> tuple[Aside, ...]:
    """Return what stands apart from a record: set aside first, then not taken."""
    names = _tablet_names(db)
    return (
        *(_of_log(entry, names) for entry in set_aside),
        *(_not_taken(db, keyring, one) for one in not_kept.shown(db, record)),
    )


def as_typed(path: str, value: Any, beside: Callable[[str], str] = str) -> str:
    """Return a value in words, or as it came when the field does not take it.

    `beside`: as in `words`.
    """
    field = CATALOGUE.field(path)
    if field is not None and check(field, value).state != "illegal":
        return words(field, value, beside=beside)
    if isinstance(value, dict) and isinstance(value.get("as"), str):
        return visible(value["as"])
    if isinstance(value, str):
        return visible(value)[:LONGEST_TOLD]
    return visible(json.dumps(value, ensure_ascii=False))[:LONGEST_TOLD]


def as_kept(raw: bytes) -> str:
    """Return the text of a body that is none, as far as it is text."""
    return visible(raw.decode("utf-8", "replace"))[:LONGEST_TOLD]


def _of_log(entry: LoggedEntry, names: dict[str, str]) -> Aside:
    raw = entry.body if entry.form == "opened" else None
    tablet = names.get(entry.header.log, "")
    return _told("set_aside", entry.because, entry.header.id, tablet, raw)


def _not_taken(db: Database, keyring: Keyring, one: NotKept) -> Aside:
    how: Literal["conflict", "refused"] = (
        "conflict" if one.answer == "conflict" else "refused"
    )
    raw = _opened(db, keyring, one)
    return _told(how, one.because, one.entry, one.tablet, raw, False)


def _opened(db: Database, keyring: Keyring, one: NotKept) -> bytes | None:
    """Return the body of a conflict, when its seal opens."""
    try:
        header = decode_header(one.header.encode())
        keys = Keys(keyring, ())
        keys.add_kept(db, {header.key})
        key = keys.key_for(header.key, header.record, header.log)
        return open_sealed(key or b"", header.encode(), one.sealed or b"")
    except (UnreadableHeader, CannotOpen, UnicodeEncodeError):
        return None


def _told(
    how: Literal["set_aside", "conflict", "refused"],
    because: str,
    entry: str,
    tablet: str,
    raw: bytes | None,
    is_in_log: bool = True,
) -> Aside:
    body = read_body(raw) if raw is not None else None
    if body is None:
        told = as_kept(raw or b"")
        return Aside(how, because, entry, tablet, "", "", told, "", "", "", is_in_log)
    path = str(body["path"])
    field = CATALOGUE.field(path)
    at = body["at"]
    utc = at.get("utc") if isinstance(at, dict) else None
    return Aside(
        how,
        because,
        entry,
        tablet,
        field.label if field else visible(path) or path,
        str(body["op"]),
        as_typed(path, body["value"], apart),
        _name(body["author"]),
        _name(body["entered_by"]),
        utc if isinstance(utc, str) else "",
        is_in_log,
    )


def _name(person: Any) -> str:
    name = person.get("name") if isinstance(person, dict) else None
    return visible(name) if isinstance(name, str) else ""


def _tablet_names(db: Database) -> dict[str, str]:
    rows = db.conn.execute(
        "SELECT l.log, t.name FROM tablet_log l JOIN tablet t ON t.id = l.tablet"
    )
    return {str(log): str(name) for log, name in rows}
