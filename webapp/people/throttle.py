"""Slow down guessing: count failures by account and by address.

Kept in the database, so that a restart does not begin the count anew. The answer is
the same for accounts that exist and for those that do not.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

from sqlite_utils import Database

from webapp.db import writing

# An account is guessed from many addresses, and a ward may share one address: both
# have their own, wider bound beside that of the pair. Our choice, no source.
ACCOUNT_FACTOR = 4
ADDRESS_FACTOR = 10
# A name guessed may be megabytes; the count keeps no more of it than this.
LONGEST_KEY = 64


@dataclass(frozen=True, slots=True)
class Limits:
    """How many failures are allowed within how many minutes."""

    tries: int
    window_min: int


def must_wait(
    db: Database, login: str, address: str, limits: Limits, now: float | None = None
) -> bool:
    """Return whether another try is refused without looking at it. Does not write."""
    since = (time.time() if now is None else now) - limits.window_min * 60
    pair, account, place = db.conn.execute(
        "SELECT coalesce(sum(login = :login AND address = :address), 0),"
        " coalesce(sum(login = :login), 0), coalesce(sum(address = :address), 0)"
        " FROM sign_in_failure WHERE at > :since"
        " AND (login = :login OR address = :address)",
        {"login": login, "address": address, "since": since},
    ).fetchone()
    return bool(
        pair >= limits.tries
        or account >= limits.tries * ACCOUNT_FACTOR
        or place >= limits.tries * ADDRESS_FACTOR
    )


def count_failure(
    db: Database, login: str, address: str, limits: Limits, now: float | None = None
) -> None:
    """Count one failure, and forget those too old to matter."""
    at = time.time() if now is None else now
    with writing(db):
        db.conn.execute(
            "DELETE FROM sign_in_failure WHERE at <= ?", (at - limits.window_min * 60,)
        )
        db.conn.execute(
            "INSERT INTO sign_in_failure (login, address, at) VALUES (?, ?, ?)",
            (login, address, at),
        )


def forget(db: Database, login: str, address: str) -> None:
    """Begin the pair's count anew after it succeeded."""
    with writing(db):
        db.conn.execute(
            "DELETE FROM sign_in_failure WHERE login = ? AND address = ?",
            (login, address),
        )
