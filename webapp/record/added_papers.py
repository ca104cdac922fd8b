"""The papers of what was added after signing, as they were fixed."""

from __future__ import annotations

from dataclasses import dataclass

from sqlite_utils import Database

from webapp.record import log
from webapp.record.entry import sha256_hex


@dataclass(frozen=True, slots=True)
class StoredPaper:
    """One paper; `number`: of the record's, from 1; `entry`: the addendum's id."""

    number: int
    entry: str
    pdf: bytes


def papers(db: Database, record: str) -> list[StoredPaper]:
    """Return the papers added to a record, in their order."""
    rows = db.conn.execute(
        "SELECT number, entry, pdf FROM added_paper WHERE record = ? ORDER BY number",
        (record,),
    )
    return [StoredPaper(row[0], row[1], bytes(row[2])) for row in rows]


def keep(db: Database, record: str, paper: StoredPaper) -> None:
    """Keep a paper for ever. Call inside `writing(db)`, with its addendum."""
    db.conn.execute(
        "INSERT INTO added_paper (record, number, entry, pdf, pdf_sha256, made_at)"
        " VALUES (?, ?, ?, ?, ?, ?)",
        (
            record,
            paper.number,
            paper.entry,
            paper.pdf,
            sha256_hex(paper.pdf),
            log.utc_now(),
        ),
    )
