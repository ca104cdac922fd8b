"""What was handed out to coders: every export, and the number of every line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import astuple, dataclass

from sqlite_utils import Database

from webapp.record.handed_line import HandedLine
from webapp.record.log import utc_now


@dataclass(frozen=True, slots=True)
class Export:
    """One file handed out. `sha256`: of its bytes; `rows`: without the header."""

    id: str
    at: str
    person: str
    what: str
    records: tuple[str, ...]
    rows: int
    sha256: str


@dataclass(frozen=True, slots=True)
class SignedNote:
    """The newest signed note of a record."""

    version: int
    pdf_sha256: str
    made_at: str


def next_id(db: Database) -> str:
    """Return the id of the next export. Call inside `writing(db)`."""
    (count,) = db.conn.execute("SELECT count(*) FROM export_log").fetchone()
    return f"E{count + 1:04d}"


def keep(db: Database, export: Export) -> None:
    """Log one export. Call inside `writing(db)`."""
    db.conn.execute(
        "INSERT INTO export_log (id, at, person, what, records, rows, sha256)"
        " VALUES (?, ?, ?, ?, ?, ?, ?)",
        (
            export.id,
            export.at or utc_now(),
            export.person,
            export.what,
            " ".join(export.records),
            export.rows,
            export.sha256,
        ),
    )


def signed_note(db: Database, record: str) -> SignedNote | None:
    """Return the newest signed note of a record, None before the first signature."""
    row = db.conn.execute(
        "SELECT version, pdf_sha256, made_at FROM note"
        " WHERE record = ? ORDER BY version DESC LIMIT 1",
        (record,),
    ).fetchone()
    return SignedNote(*row) if row else None


def lines_of(db: Database, record: str) -> dict[str, HandedLine]:
    """Return the lines of a record that were handed out, by key."""
    rows = db.conn.execute(
        "SELECT key, line, view, rule, rule_edition, code_system, code_edition, code,"
        " own_words FROM code_line WHERE record = ? ORDER BY line",
        (record,),
    )
    return {row[0]: HandedLine(*row[1:]) for row in rows}


def keep_lines(db: Database, record: str, lines: Mapping[str, HandedLine]) -> None:
    """Remember lines as they are handed out now. Call inside `writing(db)`.

    Raises sqlite3.IntegrityError: when a number would come to mean another line.
    """
    for key, line in lines.items():
        db.conn.execute(
            "INSERT INTO code_line (line, view, rule, rule_edition, code_system,"
            " code_edition, code, own_words, record, key)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
            " ON CONFLICT (record, key) DO UPDATE SET line = excluded.line,"
            " rule_edition = excluded.rule_edition,"
            " code_edition = excluded.code_edition, code = excluded.code,"
            " own_words = excluded.own_words",
            (*astuple(line), record, key),
        )


def last_handed(db: Database) -> dict[str, tuple[str, str]]:
    """Return each record's latest export as id and time."""
    rows = db.conn.execute("SELECT id, at, records FROM export_log ORDER BY rowid")
    found: dict[str, tuple[str, str]] = {}
    for export_id, at, records in rows:
        found.update(dict.fromkeys(records.split(), (export_id, at)))
    return found


def signed_at(db: Database) -> dict[str, str]:
    """Return when the newest note of each record was made."""
    rows = db.conn.execute("SELECT record, max(made_at) FROM note GROUP BY record")
    return {row[0]: row[1] for row in rows}
