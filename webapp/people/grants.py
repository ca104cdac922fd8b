"""A person's grant on a tablet: hours in which it may open other records."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlite_utils import Database

from webapp.db import writing
from webapp.people import access_log, accounts
from webapp.people.accounts import BEDSIDE_ROLES, Person
from webapp.people.tokens import fingerprint, new_token, utc_text


@dataclass(frozen=True, slots=True)
class Grant:
    """A grant as told once. `expires_at`: UTC text."""

    token: str
    person: Person
    expires_at: str


def give(
    db: Database, tablet: str, person: Person, hours: int, now: datetime | None = None
) -> Grant:
    """Give a person's grant to one tablet; older ones of theirs on it end."""
    at = now or datetime.now(UTC)
    token, expires = new_token(), utc_text(at + timedelta(hours=hours))
    with writing(db):
        db.conn.execute(
            "DELETE FROM person_grant WHERE expires_at <= ?"
            " OR (tablet = ? AND person = ?)",
            (utc_text(at), tablet, person.id),
        )
        db.conn.execute(
            "INSERT INTO person_grant VALUES (?, ?, ?, ?)",
            (fingerprint(token), tablet, person.id, expires),
        )
        access_log.note(db, "grant:give", person=person.id, tablet=tablet)
    return Grant(token, person, expires)


def holder(
    db: Database, tablet: str, token: str, now: datetime | None = None
) -> Person | None:
    """Return whose grant this is on this tablet; None once it ended."""
    row = db.conn.execute(
        "SELECT person FROM person_grant"
        " WHERE token_sha256 = ? AND tablet = ? AND expires_at > ?",
        (fingerprint(token), tablet, utc_text(now or datetime.now(UTC))),
    ).fetchone()
    person = accounts.by_id(db, row[0]) if row else None
    if person is None or not person.is_active or not person.has_role(*BEDSIDE_ROLES):
        return None
    return person


def end_all(db: Database) -> None:
    """End every grant. Call inside `writing(db)`."""
    db.conn.execute("DELETE FROM person_grant")
