"""What may happen to an entry after it was kept: it is ruled on again, or erased.

Header, digest and chain stay whatever happens.
"""

from __future__ import annotations

from sqlite_utils import Database

from webapp.record.log import SERVER_VERSION, Ruling, entry_by_id, utc_now


def rule_again(
    db: Database,
    position: int,
    ruling: Ruling,
    because: str,
    told_at: int,
    opened: bytes | None = None,
) -> None:
    """Let a later ruling on an entry stand. Call inside `writing(db)`.

    `told_at`: position of the entry that tells it; `opened`: the body, when it could
    not be opened before. Raises sqlite3.IntegrityError: to set aside what counted.
    """
    if opened is not None:
        db.conn.execute("INSERT INTO later_body VALUES (?, ?)", (position, opened))
    db.conn.execute(
        "INSERT INTO later_ruling"
        " (position, ruling, because, told_at, server_version, ruled_at)"
        " VALUES (?, ?, ?, ?, ?, ?)",
        (position, ruling, because, told_at, SERVER_VERSION, utc_now()),
    )


def erase_body(db: Database, position: int, reason_entry: str) -> None:
    """Erase one body; header, digest and chain stay. Call inside `writing(db)`.

    `reason_entry`: id of the entry that says why. Raises LookupError: when that
    entry is not in the log, or the body is gone already.
    """
    if entry_by_id(db, reason_entry) is None:
        raise LookupError(f"no entry {reason_entry} gives the reason")
    form = db.conn.execute(
        "SELECT form FROM body WHERE position = ?", (position,)
    ).fetchone()
    if form is None:
        raise LookupError(f"no body at position {position}")
    db.conn.execute(
        "INSERT INTO erasure (position, reason_entry, erased_at, form)"
        " VALUES (?, ?, ?, ?)",
        (position, reason_entry, utc_now(), form[0]),
    )
    db.conn.execute("DELETE FROM body WHERE position = ?", (position,))
    db.conn.execute("DELETE FROM later_body WHERE position = ?", (position,))
