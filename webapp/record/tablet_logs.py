"""Whose log is whose, and what each tablet said it holds."""

from __future__ import annotations

from collections.abc import Iterable

from sqlite_utils import Database

from webapp.record import log
from webapp.record.framing import Opened, Tip
from webapp.record.log import LoggedEntry

# Stands for "has the record open, and holds nothing of it back".
NOTHING_HELD_BACK = "-"


def claim(db: Database, tablet: str, logs: Iterable[str], at: str) -> set[str]:
    """Return which of these logs are the tablet's; a log nobody has becomes its own.

    Call inside `writing(db)`. Log ids are random: nobody names another's by chance.
    """
    wanted = set(logs)
    db.conn.executemany(
        "INSERT INTO tablet_log (log, tablet, first_seen_at) VALUES (?, ?, ?)"
        " ON CONFLICT (log) DO NOTHING",
        [(own, tablet, at) for own in wanted],
    )
    return {own for own in logs_of(db, tablet) if own in wanted}


def logs_of(db: Database, tablet: str) -> list[str]:
    """Return the logs of a tablet."""
    rows = db.conn.execute("SELECT log FROM tablet_log WHERE tablet = ?", (tablet,))
    return [row[0] for row in rows]


def tablet_name(db: Database, own: str) -> str:
    """Return the name of the tablet that writes in a log, "" for none."""
    row = db.conn.execute(
        "SELECT t.name FROM tablet_log l JOIN tablet t ON t.id = l.tablet"
        " WHERE l.log = ?",
        (own,),
    ).fetchone()
    return str(row[0]) if row else ""


def held(db: Database, own: str) -> int:
    """Return the highest seq of a log up to which none is missing, and remember it.

    Call inside `writing(db)`: an exchange then looks only at what came since.
    """
    row = db.conn.execute(
        "SELECT held FROM tablet_log WHERE log = ?", (own,)
    ).fetchone()
    known = int(row[0]) if row else 0
    found = log.held(db, own, known)
    if found != known:
        db.conn.execute("UPDATE tablet_log SET held = ? WHERE log = ?", (found, own))
    return found


def has_written_in(db: Database, tablet: str, record: str) -> bool:
    """Return whether any log of the tablet has an entry in the record."""
    row = db.conn.execute(
        "SELECT 1 FROM entry e JOIN tablet_log l ON l.log = e.log"
        " WHERE e.record = ? AND l.tablet = ? LIMIT 1",
        (record, tablet),
    ).fetchone()
    return row is not None


def was_revoked(db: Database, logged: LoggedEntry) -> bool:
    """Return whether an entry's tablet was revoked when it arrived."""
    row = db.conn.execute(
        "SELECT t.revoked_at FROM tablet_log l JOIN tablet t ON t.id = l.tablet"
        " WHERE l.log = ?",
        (logged.header.log,),
    ).fetchone()
    return bool(row and row[0] and row[0] <= logged.received_at)


def hand_over(db: Database, old: str, new: str) -> None:
    """Give a tablet's logs to the place it was enrolled in anew.

    Call inside `writing(db)`. What the same browser wrote under its former name is
    neither refused nor announced for ever.
    """
    db.conn.execute("UPDATE tablet_log SET tablet = ? WHERE tablet = ?", (new, old))
    db.conn.execute(
        "UPDATE OR REPLACE announced SET tablet = ? WHERE tablet = ?", (new, old)
    )


def announce(
    db: Database, tablet: str, tips: Iterable[Tip], opened: Iterable[Opened], at: str
) -> None:
    """Note what a tablet says of its own logs and open records. Last word holds.

    Call inside `writing(db)`, with the tablet's own logs only.
    """
    db.conn.executemany(
        "UPDATE tablet_log SET announced_tip = ? WHERE log = ? AND tablet = ?",
        [(tip.seq, tip.log, tablet) for tip in tips],
    )
    said = list(opened)
    db.conn.executemany(
        "DELETE FROM announced WHERE tablet = ? AND record = ?",
        [(tablet, one.record) for one in said],
    )
    rows = [
        (tablet, one.record, tip.log, tip.seq, at)
        for one in said
        for tip in one.tips or (Tip(NOTHING_HELD_BACK, 0),)
    ]
    db.conn.executemany("INSERT OR REPLACE INTO announced VALUES (?,?,?,?,?)", rows)


def saw(db: Database, tablet: str, at: str) -> None:
    """Note when a tablet last spoke. Call inside `writing(db)`."""
    db.conn.execute("UPDATE tablet SET last_seen_at = ? WHERE id = ?", (at, tablet))
