"""The server's log: the only SQL on entries, bodies and rulings.

There is one `append`, one `erase_body`; no update or delete function exists.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Literal

from sqlite_utils import Database

from webapp.record import entry as entries
from webapp.record.entry import Header

Ruling = Literal["counted", "set_aside"]
SERVER_VERSION = "1"


@dataclass(frozen=True, slots=True)
class Head:
    """The last position of the log and its chain; (0, zeros) when empty."""

    position: int
    chain: str


@dataclass(frozen=True, slots=True)
class NewEntry:
    """An entry about to be kept. `body` is what opened, or the sealed bytes."""

    header: Header
    body: bytes
    form: Literal["opened", "sealed"]
    ruling: Ruling
    because: str = ""


@dataclass(frozen=True, slots=True)
class LoggedEntry:
    """An entry as kept. `body` is None once erased."""

    position: int
    header: Header
    body: bytes | None
    form: str
    digest: str
    chain: str
    received_at: str
    ruling: Ruling
    because: str


_ENTRY = "e.position, e.v, e.id, e.record, e.log, e.seq, e.key"
_SELECT = f"""
SELECT {_ENTRY}, e.digest, e.chain, e.received_at, b.bytes, b.form, r.ruling, r.because
FROM entry e
LEFT JOIN body b ON b.position = e.position
JOIN ruling r ON r.id = (SELECT max(id) FROM ruling WHERE position = e.position)
"""  # noqa: S608 - constants only


def utc_now() -> str:
    """Return this moment as UTC text with milliseconds."""
    now = datetime.now(UTC)
    return now.strftime("%Y-%m-%dT%H:%M:%S.") + f"{now.microsecond // 1000:03d}Z"


def head(db: Database) -> Head:
    """Return the log's head."""
    row = db.conn.execute(
        "SELECT position, chain FROM entry ORDER BY position DESC LIMIT 1"
    ).fetchone()
    return Head(row[0], row[1]) if row else Head(0, entries.GENESIS_CHAIN)


def chain_at(db: Database, position: int) -> str | None:
    """Return the chain at a position, or None where there is no entry."""
    if position == 0:
        return entries.GENESIS_CHAIN
    row = db.conn.execute(
        "SELECT chain FROM entry WHERE position = ?", (position,)
    ).fetchone()
    return str(row[0]) if row else None


def append(
    db: Database, batch: Iterable[NewEntry], received_at: str | None = None
) -> list[int]:
    """Keep entries in the order given; return their positions.

    Call inside `writing(db)`. Raises sqlite3.IntegrityError: when an id or a place
    is taken, which the caller must have asked before.
    """
    at = received_at or utc_now()
    tip = head(db)
    position, chain = tip.position, tip.chain
    rows: list[tuple[Any, ...]] = []
    bodies: list[tuple[int, str, bytes]] = []
    rulings: list[tuple[int, str, str, str, str]] = []
    for new in batch:
        header = new.header
        body_sha256 = entries.sha256_hex(new.body)
        digest = entries.digest(header.encode(), body_sha256)
        position, chain = position + 1, entries.chain(chain, digest)
        place = (header.v, header.id, header.record, header.log, header.seq, header.key)
        rows.append((position, *place, body_sha256, digest, chain, at))
        bodies.append((position, new.form, new.body))
        rulings.append((position, new.ruling, new.because, SERVER_VERSION, at))
    db.conn.executemany("INSERT INTO entry VALUES (?,?,?,?,?,?,?,?,?,?,?)", rows)
    db.conn.executemany("INSERT INTO body VALUES (?,?,?)", bodies)
    db.conn.executemany(
        "INSERT INTO ruling (position, ruling, because, server_version, ruled_at)"
        " VALUES (?,?,?,?,?)",
        rulings,
    )
    return [row[0] for row in rows]


def release(db: Database, position: int, opened: bytes | None = None) -> None:
    """Let a set-aside entry count. Call inside `writing(db)`. Never the reverse."""
    if opened is not None:
        raise ValueError("a sealed body is released by hand-over, not here")
    db.conn.execute(
        "INSERT INTO ruling (position, ruling, server_version, ruled_at)"
        " VALUES (?, 'counted', ?, ?)",
        (position, SERVER_VERSION, utc_now()),
    )


def entries_of(
    db: Database, record: str, since: int = 0, limit: int = -1
) -> list[LoggedEntry]:
    """Return a record's entries with position > `since`, in position order."""
    rows = db.conn.execute(
        _SELECT + " WHERE e.record = ? AND e.position > ? ORDER BY e.position LIMIT ?",
        (record, since, limit),
    )
    return [_logged(row) for row in rows]


def entry_by_id(db: Database, entry_id: str) -> LoggedEntry | None:
    """Return the entry with this id, or None."""
    row = db.conn.execute(_SELECT + " WHERE e.id = ?", (entry_id,)).fetchone()
    return _logged(row) if row else None


def entries_by_id(db: Database, ids: Iterable[str]) -> dict[str, LoggedEntry]:
    """Return those of these entries that are in the log, by id."""
    return {e.header.id: e for e in _selected(db, "e.id", list(ids))}


def standing(db: Database, headers: Iterable[Header]) -> list[LoggedEntry]:
    """Return what already stands under any of these ids or in any of these places."""
    wanted = list(headers)
    found = _selected(db, "e.id", [h.id for h in wanted])
    for own in {h.log for h in wanted}:
        places = [h.seq for h in wanted if h.log == own]
        found += _selected(db, "e.log = ? AND e.seq", places, own)
    return list({entry.position: entry for entry in found}.values())


def held(db: Database, log: str) -> int:
    """Return the highest seq of `log` up to which none is missing; 0 for none."""
    count, top = db.conn.execute(
        "SELECT count(*), coalesce(max(seq), 0) FROM entry WHERE log = ?", (log,)
    ).fetchone()
    if count == top:
        return int(top)
    row = db.conn.execute(
        "SELECT min(seq) FROM entry e WHERE log = ? AND NOT EXISTS"
        " (SELECT 1 FROM entry n WHERE n.log = e.log AND n.seq = e.seq + 1)",
        (log,),
    ).fetchone()
    first = db.conn.execute(
        "SELECT 1 FROM entry WHERE log = ? AND seq = 1", (log,)
    ).fetchone()
    return int(row[0]) if first else 0


def records_of_logs(db: Database, logs: Iterable[str]) -> set[str]:
    """Return the records in which any of these logs has an entry."""
    found: set[str] = set()
    for log in logs:
        rows = db.conn.execute(
            "SELECT DISTINCT record FROM entry WHERE log = ?", (log,)
        )
        found.update(row[0] for row in rows)
    return found


def record_ids(db: Database) -> list[str]:
    """Return every record in order of its first entry."""
    rows = db.conn.execute(
        "SELECT record FROM entry GROUP BY record ORDER BY min(position)"
    )
    return [row[0] for row in rows]


def next_desk_seq(db: Database) -> int:
    """Return the next place of the server's own log. Call inside `writing(db)`."""
    row = db.conn.execute(
        "SELECT coalesce(max(seq), 0) + 1 FROM entry WHERE log = ?",
        (entries.DESK_LOG,),
    ).fetchone()
    return int(row[0])


def append_desk(db: Database, record: str, body: dict[str, Any]) -> str:
    """Keep an entry written at the desk; return its id. Call inside `writing(db)`."""
    header = Header(
        entries.VERSION,
        entries.uuid7(),
        record,
        entries.DESK_LOG,
        next_desk_seq(db),
        entries.NO_KEY,
    )
    raw = entries.encode_body(body)
    entries.decode_body(raw)
    append(db, [NewEntry(header, raw, "opened", "counted")])
    return header.id


def erase_body(db: Database, position: int, reason_entry: str) -> None:
    """Erase one body; header, digest and chain stay. Call inside `writing(db)`.

    `reason_entry`: id of the entry that says why. Raises LookupError: when that
    entry is not in the log.
    """
    if entry_by_id(db, reason_entry) is None:
        raise LookupError(f"no entry {reason_entry} gives the reason")
    db.conn.execute(
        "INSERT INTO erasure VALUES (?, ?, ?)", (position, reason_entry, utc_now())
    )
    db.conn.execute("DELETE FROM body WHERE position = ?", (position,))


def _selected(
    db: Database, column: str, values: Sequence[str | int], *before: str
) -> list[LoggedEntry]:
    marks = ",".join("?" * len(values))
    rows = db.conn.execute(
        f"{_SELECT} WHERE {column} IN ({marks})",
        (*before, *values),
    )
    return [_logged(row) for row in rows]


def _logged(row: sqlite3.Row | tuple[Any, ...]) -> LoggedEntry:
    position, v, entry_id, record, log, seq, key = row[:7]
    digest, chain, received_at, raw, form, ruling, because = row[7:14]
    header = Header(v, entry_id, record, log, seq, key)
    return LoggedEntry(
        position,
        header,
        None if raw is None else bytes(raw),
        form or "",
        digest,
        chain,
        received_at,
        ruling,
        because,
    )
