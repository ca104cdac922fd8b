"""What tablets sent and this log did not take: kept aside, for people to see."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sqlite_utils import Database

from webapp.record.entry import Header, sha256_hex

# Of a header that cannot be read, so much tells what it was.
MOST_HEADER = 2000


@dataclass(frozen=True, slots=True)
class Declined:
    """One item that was not taken. `header`: None when it could not be read.

    `seems`: the id it seems to have, or ""; `raw`: the header's own bytes.
    """

    answer: Literal["conflict", "refused"]
    because: str
    header: Header | None
    seems: str
    raw: bytes
    sealed: bytes


@dataclass(frozen=True, slots=True)
class NotKept:
    """One item as it is shown. `tablet`: name; `record`: "" when not readable.

    `header`: its text; `sealed`: the bytes of a conflict, which are kept.
    """

    tablet: str
    answer: str
    entry: str
    record: str
    log: str
    seq: int
    because: str
    at: str
    header: str
    sealed: bytes | None


def keep(
    db: Database, tablet: str, items: Iterable[Declined], behind: int, at: str
) -> None:
    """Keep what was not taken, once each. Call inside `writing(db)`.

    A conflict's bytes are kept: one of the two is what somebody said. `behind`: the
    log's last position, so that a later arrival settles it.
    """
    db.conn.executemany(
        "INSERT INTO not_kept (tablet, answer, entry, record, log, seq, because,"
        " header, sealed_sha256, sealed, behind, at)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
        " ON CONFLICT (tablet, header, sealed_sha256) DO NOTHING",
        [(tablet, *_columns(one), behind, at) for one in items],
    )


def shown(db: Database, record: str | None = None) -> list[NotKept]:
    """Return what waits to be seen: of one record ("": of none), or of all.

    What was sent again since, and kept, is settled and left out.
    """
    rows = db.conn.execute(
        "SELECT t.name, n.answer, n.entry, n.record, n.log, n.seq, n.because, n.at,"
        " n.header, n.sealed"
        " FROM not_kept n JOIN tablet t ON t.id = n.tablet"
        " WHERE (?1 IS NULL OR n.record = ?1) AND NOT EXISTS"
        "  (SELECT 1 FROM entry e WHERE e.id = n.entry AND e.position > n.behind)"
        " ORDER BY n.id",
        (record,),
    )
    return [NotKept(*row) for row in rows]


def counts(db: Database) -> dict[str, int]:
    """Return how many such items wait in each record; "" for no readable record."""
    found: dict[str, int] = {}
    for one in shown(db):
        found[one.record] = found.get(one.record, 0) + 1
    return found


def _columns(one: Declined) -> tuple[object, ...]:
    h = one.header
    place = (h.id, h.record, h.log, h.seq) if h else (one.seems, "", "", 0)
    text = one.raw.decode("utf-8", "replace")[:MOST_HEADER]
    bytes_kept = one.sealed if one.answer == "conflict" else None
    return (one.answer, *place, one.because, text, sha256_hex(one.sealed), bytes_kept)
