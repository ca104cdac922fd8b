"""Heads of the log that outsiders know: so a server gone back is found out."""

from __future__ import annotations

from sqlite_utils import Database

from webapp.record import log
from webapp.record.log import Head


def is_known(db: Database, head: Head) -> bool:
    """Return whether this log has, or had on the way here, this very head."""
    return log.chain_at(db, head.position) == head.chain


def bear(db: Database, tablet: str, head: Head, at: str) -> None:
    """Note a head that a tablet was told or says it saw. Call inside `writing(db)`."""
    db.conn.execute(
        "INSERT INTO witness VALUES (?, ?, ?, ?)"
        " ON CONFLICT (tablet, position, chain) DO NOTHING",
        (tablet, head.position, head.chain, at),
    )


def unknown_heads(db: Database) -> list[tuple[str, Head, str]]:
    """Return the heads that tablets saw and this log does not know.

    Each is (tablet, head, when told): any one shows that the log went back, or that
    it is not the one those tablets wrote to.
    """
    rows = db.conn.execute(
        "SELECT w.tablet, w.position, w.chain, w.at FROM witness w"
        " LEFT JOIN entry e ON e.position = w.position"
        " WHERE w.position > 0 AND e.chain IS NOT w.chain ORDER BY w.at"
    )
    return [(row[0], Head(row[1], row[2]), row[3]) for row in rows]
