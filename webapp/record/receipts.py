"""How each batch was taken in: under one digest, beside the chain.

The chain covers headers and bodies. A receipt covers the rest of what was decided at
that moment: when it was, whether each entry counted and why, and how its body lies.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from itertools import groupby, islice
from typing import NamedTuple

from sqlite_utils import Database


class Taken(NamedTuple):
    """One entry as taken in. `ruling_id`: place of its first ruling."""

    position: int
    received_at: str
    form: str
    ruling_id: int
    ruling: str
    because: str
    server_version: str
    ruled_at: str


def keep(db: Database, batch: list[Taken]) -> None:
    """Write the receipt of entries in consecutive positions, taken in at one time."""
    first, last = batch[0], batch[-1]
    db.conn.execute(
        "INSERT INTO receipt VALUES (?, ?, ?, ?)",
        (first.position, last.position, first.received_at, digest(batch)),
    )


def digest(batch: Iterable[Taken]) -> str:
    """Return the SHA-256 of a batch, written as JSON: a list for each entry."""
    # A named tuple is written as a list, in the order of its fields. Bytes stand in no
    # receipt: where damage made a text one, the digest is another, and none is refused.
    told = json.dumps(list(batch), default=repr)
    return hashlib.sha256(told.encode()).hexdigest()


def of_the_past(db: Database) -> None:
    """Write receipts for entries that came before receipts were kept."""
    for _, batch in groupby(taken(db), key=lambda one: one.received_at):
        keep(db, list(batch))


def broken(db: Database) -> Iterator[tuple[str, int]]:
    """Return (table, position) of what no longer fits its receipt, once a receipt."""
    entries = taken(db)
    expected = 1
    for first, last, at, sha256 in db.conn.execute(
        "SELECT first, last, received_at, sha256 FROM receipt ORDER BY first"
    ).fetchall():
        if first != expected:
            yield "receipt", expected
            return
        batch = list(islice(entries, max(0, last - first + 1)))
        moved = [one.position for one in batch if one.received_at != at]
        if moved and len(moved) < len(batch):
            yield "entry", moved[0]
        elif not batch or batch[-1].position != last or digest(batch) != sha256:
            yield "receipt", first
        expected = last + 1
    if next(entries, None) is not None:
        yield "receipt", expected


def taken(db: Database) -> Iterator[Taken]:
    """Return every entry as it was taken in, in order of position."""
    rows = db.conn.execute(
        "SELECT e.position, e.received_at, coalesce(b.form, x.form, ''),"
        " r.id, r.ruling, r.because, r.server_version, r.ruled_at"
        " FROM entry e LEFT JOIN body b ON b.position = e.position"
        " LEFT JOIN erasure x ON x.position = e.position"
        " LEFT JOIN ruling r ON r.id ="
        "  (SELECT min(id) FROM ruling WHERE position = e.position)"
        " ORDER BY e.position"
    )
    return (Taken(*row) for row in rows)
