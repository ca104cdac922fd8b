"""Entries that tablets hold of others and this log does not: what a server lost.

A server put back to an older copy gets from each tablet what that tablet wrote. What
the desk wrote since, and what came from a tablet that is gone, nobody can give back:
the tablets that read it tell its header, and people are told what is missing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlite_utils import Database

from webapp.record.entry import DESK_LOG, Header

# A place told beyond this is no desk's: it would only use up the numbers.
FURTHEST_AHEAD = 1_000_000


@dataclass(frozen=True, slots=True)
class Lost:
    """One entry that is known of and not here. `tablet`: name of one that has it."""

    entry: str
    record: str
    log: str
    seq: int
    tablet: str
    at: str


def note(db: Database, tablet: str, held: Iterable[Header], at: str) -> None:
    """Note which of the entries a tablet read here before are not in this log.

    Call inside `writing(db)`. Among them may be what the tablet wrote itself: a tablet
    put back to an older copy only read it here, and cannot send it again.
    """
    # A desk entry missing here may stand just above the desk's last place.
    furthest = last_place(db, DESK_LOG) + FURTHEST_AHEAD
    rows = [
        (h.id, h.record, h.log, h.seq, h.encode().decode(), tablet, at)
        for h in held
        if h.log != DESK_LOG or h.seq <= furthest
    ]
    db.conn.executemany(
        "INSERT INTO lost SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7"
        " WHERE NOT EXISTS (SELECT 1 FROM entry WHERE id = ?1)"
        " ON CONFLICT (entry) DO NOTHING",
        rows,
    )


def missing(db: Database, record: str | None = None) -> list[Lost]:
    """Return what is still missing, of one record or of all."""
    rows = db.conn.execute(
        "SELECT l.entry, l.record, l.log, l.seq, t.name, l.at FROM lost l"
        " JOIN tablet t ON t.id = l.tablet"
        " WHERE NOT EXISTS (SELECT 1 FROM entry e WHERE e.id = l.entry)"
        " AND (?1 IS NULL OR l.record = ?1) ORDER BY l.log, l.seq",
        (record,),
    )
    return [Lost(*row) for row in rows]


def count(db: Database, records: Iterable[str]) -> int:
    """Return how many entries of these records are known lost."""
    return sum(
        db.conn.execute(
            "SELECT count(*) FROM lost l WHERE l.record = ?"
            " AND NOT EXISTS (SELECT 1 FROM entry e WHERE e.id = l.entry)",
            (record,),
        ).fetchone()[0]
        for record in records
    )


def last_seq(db: Database, log: str) -> int:
    """Return the furthest place of a log that anybody told of; 0 for none."""
    row = db.conn.execute(
        "SELECT coalesce(max(seq), 0) FROM lost WHERE log = ?", (log,)
    ).fetchone()
    return int(row[0])


def last_place(db: Database, log: str) -> int:
    """Return the last place of a log in this database; 0 for none."""
    row = db.conn.execute(
        "SELECT coalesce(max(seq), 0) FROM entry WHERE log = ?", (log,)
    ).fetchone()
    return int(row[0])
