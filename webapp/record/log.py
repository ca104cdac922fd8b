"""The server's log: with `later.py` the only SQL on entries, bodies and rulings.

There is one `append`; what may happen to an entry afterwards is in `later.py`, and no
update or delete function exists.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Literal, NamedTuple

from sqlite_utils import Database

from webapp.db import insert_many
from webapp.record import entry as entries
from webapp.record import receipts
from webapp.record.entry import Header
from webapp.record.receipts import Taken

Ruling = Literal["counted", "set_aside"]
SERVER_VERSION = "2"
# No position is beyond this: the largest that SQLite holds.
NO_END = 2**63 - 1


@dataclass(frozen=True, slots=True)
class Head:
    """The last position of the log and its chain; (0, zeros) when empty."""

    position: int
    chain: str


class NewEntry(NamedTuple):
    """An entry about to be kept. `body` is what opened, or the sealed bytes."""

    header: Header
    body: bytes
    form: Literal["opened", "sealed"]
    ruling: Ruling
    because: str = ""


class LoggedEntry(NamedTuple):
    """An entry as kept, with the newest ruling. `body` is None once erased.

    `told_at`: position of the entry that told a later ruling, 0 for the one at
    receipt; `server_version`: the server that ruled.
    """

    position: int
    header: Header
    body: bytes | None
    form: str
    digest: str
    chain: str
    received_at: str
    ruling: Ruling
    because: str
    told_at: int
    server_version: str


_ENTRY = "e.position, e.v, e.id, e.record, e.log, e.seq, e.key"
_SELECT = f"""
SELECT {_ENTRY}, e.digest, e.chain, e.received_at, coalesce(o.bytes, b.bytes),
  CASE WHEN o.bytes IS NULL THEN b.form ELSE 'opened' END,
  coalesce(n.ruling, r.ruling), coalesce(n.because, r.because),
  coalesce(n.told_at, 0), coalesce(n.server_version, r.server_version)
FROM entry e
LEFT JOIN body b ON b.position = e.position
LEFT JOIN later_body o ON o.position = e.position
JOIN ruling r ON r.id = (SELECT max(id) FROM ruling WHERE position = e.position)
LEFT JOIN later_ruling n
  ON n.id = (SELECT max(id) FROM later_ruling WHERE position = e.position)
"""  # noqa: S608 - constants only
_BEHIND = f"""{_SELECT}
WHERE e.record = ? AND e.position > ? AND e.position <= ?
ORDER BY e.position LIMIT ?
"""
_AGAIN = f"""{_SELECT}
WHERE e.record = ? AND e.position <= ? AND e.position IN
  (SELECT position FROM later_ruling WHERE told_at > ? AND told_at <= ?)
"""  # noqa: S608 - constants only
_SET_ASIDE = f"""{_SELECT}
WHERE e.position > ? AND coalesce(n.ruling, r.ruling) = 'set_aside'
  AND e.position IN (SELECT position FROM ruling WHERE ruling = 'set_aside')
ORDER BY e.position LIMIT ?
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
) -> list[LoggedEntry]:
    """Keep entries in the order given; return them as kept.

    Call inside `writing(db)`. Raises sqlite3.IntegrityError: when an id or a place
    is taken, which the caller must have asked before.
    """
    at = received_at or utc_now()
    tip = head(db)
    linked = tip.chain
    rows: list[tuple[Any, ...]] = []
    kept: list[LoggedEntry] = []
    for position, new in enumerate(batch, tip.position + 1):
        header, body, form, ruling, because = new
        sha256, digest, linked = entries.links(header.encode(), body, linked)
        rows.append((position, *header, sha256, digest, linked, at))
        made = (position, header, body, form, digest, linked, at, ruling, because)
        kept.append(LoggedEntry(*made, told_at=0, server_version=SERVER_VERSION))
    if rows:
        insert_many(db, "entry", rows)
        insert_many(db, "body", [(one.position, one.form, one.body) for one in kept])
        _rule(db, kept, at)
    return kept


def _rule(db: Database, kept: list[LoggedEntry], at: str) -> None:
    """Write the rulings at receipt, and the receipt itself."""
    ruled = list(enumerate(kept, _last_ruling(db) + 1))
    taken = [
        Taken(e.position, at, e.form, n, e.ruling, e.because, e.server_version, at)
        for n, e in ruled
    ]
    insert_many(
        db,
        "ruling (id, position, ruling, because, server_version, ruled_at)",
        [(n, e.position, e.ruling, e.because, e.server_version, at) for n, e in ruled],
    )
    receipts.keep(db, taken)


def entries_of(
    db: Database, record: str, since: int = 0, limit: int = -1, upto: int = NO_END
) -> list[LoggedEntry]:
    """Return a record's entries behind `since`, up to `upto`, in position order."""
    rows = db.conn.execute(_BEHIND, (record, since, upto, limit))
    return [_logged(row) for row in rows]


def news_of(
    db: Database, record: str, since: int, limit: int, upto: int = NO_END
) -> list[LoggedEntry]:
    """Return what a reader at `since` does not know of a record, at most `limit`.

    Besides the entries behind `since` these are older ones that were ruled on again;
    each of them comes directly before the entry that tells its ruling.
    """
    again = db.conn.execute(_AGAIN, (record, since, since, upto))
    found = [_logged(row) for row in again]
    found += entries_of(db, record, since, limit, upto)
    return sorted(found, key=lambda one: _told(one, since))[:limit]


def set_aside(db: Database, after: int = 0, limit: int = -1) -> list[LoggedEntry]:
    """Return the entries that do not count, with position > `after`, in order."""
    rows = db.conn.execute(_SET_ASIDE, (after, limit))
    return [_logged(row) for row in rows]


def span(db: Database, record: str) -> tuple[int, int]:
    """Return the first and the last position of a record's entries; 0 for none."""
    row = db.conn.execute(
        "SELECT (SELECT min(position) FROM entry WHERE record = ?1),"
        " (SELECT max(position) FROM entry WHERE record = ?1)",
        (record,),
    ).fetchone()
    return row[0] or 0, row[1] or 0


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


def held(db: Database, log: str, known: int = 0) -> int:
    """Return the highest seq of `log` up to which none is missing; 0 for none.

    `known`: a seq up to which none is missing for sure; only what follows is looked at.
    """
    last = db.conn.execute(
        "SELECT min(seq) FROM entry e WHERE log = ? AND seq > ? AND NOT EXISTS"
        " (SELECT 1 FROM entry n WHERE n.log = e.log AND n.seq = e.seq + 1)",
        (log, known),
    ).fetchone()
    follows = db.conn.execute(
        "SELECT 1 FROM entry WHERE log = ? AND seq = ?", (log, known + 1)
    ).fetchone()
    return int(last[0]) if follows else known


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


def _last_ruling(db: Database) -> int:
    row = db.conn.execute("SELECT coalesce(max(id), 0) FROM ruling").fetchone()
    return int(row[0])


def _told(logged: LoggedEntry, since: int) -> tuple[int, bool]:
    is_again = logged.position <= since
    return (logged.told_at if is_again else logged.position), not is_again


def _selected(
    db: Database, column: str, values: Sequence[str | int], *before: str
) -> list[LoggedEntry]:
    if not values:
        return []
    marks = ",".join("?" * len(values))
    rows = db.conn.execute(
        f"{_SELECT} WHERE {column} IN ({marks})",
        (*before, *values),
    )
    return [_logged(row) for row in rows]


def _logged(row: sqlite3.Row | tuple[Any, ...]) -> LoggedEntry:
    position, v, entry_id, record, log, seq, key = row[:7]
    digest, chain, received_at, raw, form, *ruled = row[7:]
    return LoggedEntry(
        position,
        Header(v, entry_id, record, log, seq, key),
        None if raw is None else bytes(raw),
        form or "",
        digest,
        chain,
        received_at,
        *ruled,
    )
