"""The server as a writer: its own log `desk`, written in the caller's transaction."""

from __future__ import annotations

from typing import Any

from sqlite_utils import Database

from webapp.record import entry as entries
from webapp.record import log, lost
from webapp.record.entry import DESK_LOG, Header
from webapp.record.log import NewEntry


def next_seq(db: Database) -> int:
    """Return the next place of the server's own log. Call inside `writing(db)`.

    A place that tablets know of is never used again, even when this log lost it.
    """
    row = db.conn.execute(
        "SELECT coalesce(max(seq), 0) FROM entry WHERE log = ?", (DESK_LOG,)
    ).fetchone()
    return max(int(row[0]), lost.last_seq(db, DESK_LOG)) + 1


def append(db: Database, record: str, body: dict[str, Any]) -> str:
    """Keep an entry written at the desk; return its id. Call inside `writing(db)`."""
    return append_at(db, record, body)[0]


def append_at(db: Database, record: str, body: dict[str, Any]) -> tuple[str, int]:
    """Keep an entry written at the desk; return its id and its position."""
    header = Header(
        entries.VERSION,
        entries.uuid7(),
        record,
        DESK_LOG,
        next_seq(db),
        entries.NO_KEY,
    )
    raw = entries.encode_body(body)
    entries.decode_body(raw)
    [kept] = log.append(db, [NewEntry(header, raw, "opened", "counted")])
    return header.id, kept.position
