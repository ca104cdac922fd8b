"""Which limits a record is computed by: those in use when its first entry came.

A newer policy applies to records that begin after it. The only SQL on these tables.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from sqlite_utils import Database

from webapp.clinical.policy import Policy
from webapp.clinical.policy_kept import read_back, written


def use(db: Database, policy: Policy, at: str) -> None:
    """Take a policy into use, as at start. Call inside `writing(db)`.

    Records that are here and have no limits yet, as those an older server kept, are
    read by these from now on.
    """
    text = written(policy)
    sha256 = hashlib.sha256(text.encode("utf-8")).hexdigest()
    db.conn.execute(
        "INSERT INTO limits (sha256, version, rows) VALUES (?, ?, ?)"
        " ON CONFLICT (sha256) DO NOTHING",
        (sha256, policy.version, text),
    )
    if _in_use(db) != sha256:
        db.conn.execute(
            "INSERT INTO limits_use (limits, since) VALUES (?, ?)", (sha256, at)
        )
    unpinned = db.conn.execute(
        "SELECT DISTINCT record FROM entry"
        " WHERE record NOT IN (SELECT record FROM record_limits)"
    ).fetchall()
    pin(db, (record for (record,) in unpinned), at)


def pin(db: Database, records: Iterable[str], at: str) -> None:
    """Give records without limits those in use. Call inside `writing(db)`.

    In the transaction that keeps a record's first entry; later it changes nothing.
    """
    in_use = _in_use(db)
    if in_use is None:
        return
    db.conn.executemany(
        "INSERT INTO record_limits (record, limits, pinned_at) VALUES (?, ?, ?)"
        " ON CONFLICT (record) DO NOTHING",
        [(record, in_use, at) for record in records],
    )


def limits_of(db: Database, record: str, current: Policy) -> Policy:
    """Return the limits a record began with; `current` for one that is not here."""
    row = db.conn.execute(
        "SELECT limits.rows FROM record_limits"
        " JOIN limits ON limits.sha256 = record_limits.limits WHERE record = ?",
        (record,),
    ).fetchone()
    return read_back(row[0]) if row else current


def of_version(db: Database, version: str) -> Policy | None:
    """Return the limits of a version that is or was in use; the newest with it."""
    row = db.conn.execute(
        "SELECT limits.rows FROM limits_use JOIN limits ON sha256 = limits"
        " WHERE version = ? ORDER BY number DESC LIMIT 1",
        (version,),
    ).fetchone()
    return read_back(row[0]) if row else None


def _in_use(db: Database) -> str | None:
    row = db.conn.execute(
        "SELECT limits FROM limits_use ORDER BY number DESC LIMIT 1"
    ).fetchone()
    return row[0] if row else None
