"""Which limits a record is computed by: those in use when its first entry came.

A newer policy applies to records that begin after it. The only SQL on these tables.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from sqlite_utils import Database

from webapp.clinical.policy import Policy
from webapp.clinical.policy_kept import handed_out, named, read_back, written

NOTHING_SAID: Mapping[str, str] = MappingProxyType({})


def use(db: Database, policy: Policy, at: str) -> None:
    """Take a policy into use, as at start. Call inside `writing(db)`.

    Records that are here and have no limits yet, as those an older server kept, are
    read by these from now on.
    """
    text = written(policy)
    sha256 = named(text)
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


def pin(
    db: Database,
    records: Iterable[str],
    at: str,
    began: Mapping[str, str] = NOTHING_SAID,
) -> None:
    """Give records without limits those in use. Call inside `writing(db)`.

    In the transaction that keeps a record's first entry; later it changes nothing.
    `began`: record -> name of the limits that its tablet began it with, without
    network perhaps; they count where they were in use here.
    """
    in_use = _in_use(db)
    if in_use is None:
        return
    db.conn.executemany(
        "INSERT INTO record_limits (record, limits, pinned_at) VALUES"
        " (?, coalesce((SELECT sha256 FROM limits WHERE sha256 = ?), ?), ?)"
        " ON CONFLICT (record) DO NOTHING",
        [(record, began.get(record, ""), in_use, at) for record in records],
    )


@dataclass(frozen=True, slots=True)
class HandedOut:
    """What a tablet is told of limits.

    `of`: record -> name of the limits it began with; `in_use`: name of those that a
    new record begins with; `given`: those among all these that it does not hold.
    """

    of: Mapping[str, str]
    in_use: str | None
    given: tuple[Mapping[str, Any], ...]

    def as_json(self) -> dict[str, Any]:
        """Return it as it travels in the reply."""
        return {"of": self.of, "in_use": self.in_use, "given": self.given}


def hand_out(
    db: Database, records: Iterable[str], held: Iterable[str] = ()
) -> HandedOut:
    """Return the limits that a tablet reads these records by. Does not write."""
    of: dict[str, str] = dict(
        db.conn.execute(
            "SELECT record, limits FROM record_limits"
            " WHERE record IN (SELECT value FROM json_each(?))",
            (json.dumps(list(records)),),
        ).fetchall()
    )
    in_use = _in_use(db)
    lacks = {*of.values(), *([in_use] if in_use else [])} - set(held)
    texts = db.conn.execute(
        "SELECT rows FROM limits"
        " WHERE sha256 IN (SELECT value FROM json_each(?)) ORDER BY sha256",
        (json.dumps(sorted(lacks)),),
    ).fetchall()
    given = tuple(handed_out(read_back(text), text) for (text,) in texts)
    return HandedOut(of, in_use, given)


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
