"""Tablets: let in by a code used once, known by a token, and shut out again."""

from __future__ import annotations

import secrets
import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlite_utils import Database

from webapp.db import writing
from webapp.errors import Problem
from webapp.people import access_log
from webapp.people.accounts import CannotKeep
from webapp.people.tokens import fingerprint, new_token, utc_text
from webapp.record.entry import uuid7
from webapp.say import say

# Crockford's base 32: no I, L, O or U, and what is typed for them is understood.
_SIGNS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_TYPED_FOR = str.maketrans({"I": "1", "L": "1", "O": "0", " ": None, "-": None})
CODE_LENGTH = 8
CODE_HOURS = 24
LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Tablet:
    """A tablet. `code_expires_at`: set while a code waits to be used."""

    id: str
    name: str
    code_expires_at: str | None
    added_at: str
    enrolled_at: str | None
    revoked_at: str | None
    last_seen_at: str | None

    @property
    def is_revoked(self) -> bool:
        """Return whether what it sends is set aside."""
        return self.revoked_at is not None

    @property
    def state(self) -> str:
        """Return one word: revoked, enrolled or waiting (for its code)."""
        if self.is_revoked:
            return "revoked"
        return "enrolled" if self.enrolled_at else "waiting"


@dataclass(frozen=True, slots=True)
class ListedTablet:
    """A tablet, and how many entries it announced and has not delivered."""

    tablet: Tablet
    undelivered: int


_COLUMNS = "id, name, code_expires_at, added_at, enrolled_at, revoked_at, last_seen_at"


def add(db: Database, name: str, now: datetime | None = None) -> tuple[Tablet, str]:
    """Make a tablet's place; return it with the code, told this once.

    Raises CannotKeep: when the name is empty, too long or taken.
    """
    wanted = " ".join(name.split())
    if not 0 < len(wanted) <= LONGEST_NAME or not wanted.isprintable():
        message = say("tablets.name_length", most=LONGEST_NAME)
        raise CannotKeep((Problem("name", "length", message),))
    tablet, code, at = uuid7(), new_code(), now or datetime.now(UTC)
    try:
        with writing(db):
            db.conn.execute(
                "INSERT INTO tablet (id, name, code_sha256, code_expires_at, added_at)"
                " VALUES (?, ?, ?, ?, ?)",
                (tablet, wanted, fingerprint(code), _expiry(at), utc_text(at)),
            )
            access_log.note(db, "tablet:add", tablet=tablet)
    except sqlite3.IntegrityError as error:
        message = say("tablets.name_taken", name=wanted)
        raise CannotKeep((Problem("name", "taken", message),)) from error
    return _needed(db, tablet), code


def renew(db: Database, tablet: str, now: datetime | None = None) -> str:
    """Give a known tablet a new code; its old token ends when the code is used.

    The way back for one that was wiped or revoked: its logs stay its own.
    """
    code, at = new_code(), now or datetime.now(UTC)
    with writing(db):
        db.conn.execute(
            "UPDATE tablet SET code_sha256 = ?, code_expires_at = ? WHERE id = ?",
            (fingerprint(code), _expiry(at), tablet),
        )
        access_log.note(db, "tablet:renew", tablet=tablet)
    return code


def redeem(
    db: Database, code: str, now: datetime | None = None
) -> tuple[Tablet, str] | None:
    """Use a code; return its tablet and the token, told this once.

    None when the code is unknown, used or too old: the three are not told apart.
    """
    token, at = new_token(), utc_text(now or datetime.now(UTC))
    with writing(db):
        row = db.conn.execute(
            "SELECT id FROM tablet WHERE code_sha256 = ? AND code_expires_at > ?",
            (fingerprint(_normal(code)), at),
        ).fetchone()
        if row is None:
            return None
        db.conn.execute(
            "UPDATE tablet SET token_sha256 = ?, enrolled_at = ?, code_sha256 = NULL,"
            " code_expires_at = NULL, revoked_at = NULL WHERE id = ?",
            (fingerprint(token), at, row[0]),
        )
        access_log.note(db, "tablet:enrol", tablet=row[0])
    return _needed(db, row[0]), token


def revoke(db: Database, tablet: str, now: datetime | None = None) -> None:
    """Count nothing more from a tablet, and tell it nothing more.

    It keeps its token: what it still holds is taken in and set aside, not lost.
    """
    with writing(db):
        db.conn.execute(
            "UPDATE tablet SET revoked_at = ?, code_sha256 = NULL,"
            " code_expires_at = NULL WHERE id = ? AND revoked_at IS NULL",
            (utc_text(now or datetime.now(UTC)), tablet),
        )
        db.conn.execute("DELETE FROM person_grant WHERE tablet = ?", (tablet,))
        access_log.note(db, "tablet:revoke", tablet=tablet)


def void_codes(db: Database) -> None:
    """Let no code that was given out be used. Call inside `writing(db)`."""
    db.conn.execute(
        "UPDATE tablet SET code_sha256 = NULL, code_expires_at = NULL"
        " WHERE code_sha256 IS NOT NULL"
    )


def by_token(db: Database, token: str) -> Tablet | None:
    """Return the tablet that holds this token, revoked or not; None for no one."""
    found = _read(db, " WHERE token_sha256 = ?", fingerprint(token))
    return found[0] if found else None


def by_id(db: Database, tablet: str) -> Tablet | None:
    """Return the tablet with this id, or None."""
    found = _read(db, " WHERE id = ?", tablet)
    return found[0] if found else None


def by_name(db: Database, name: str) -> Tablet | None:
    """Return the tablet with this name, or None."""
    found = _read(db, " WHERE name = ?", " ".join(name.split()))
    return found[0] if found else None


def tablets(db: Database) -> list[ListedTablet]:
    """Return every tablet by name, with what it announced and still holds back."""
    rows = db.conn.execute(
        "SELECT l.tablet, sum(max(0, l.announced_tip - (SELECT count(*) FROM entry e"
        " WHERE e.log = l.log AND e.seq <= l.announced_tip)))"
        " FROM tablet_log l GROUP BY l.tablet"
    )
    held_back = {row[0]: int(row[1]) for row in rows}
    found = _read(db, " ORDER BY revoked_at IS NOT NULL, name")
    return [ListedTablet(tablet, held_back.get(tablet.id, 0)) for tablet in found]


def new_code() -> str:
    """Return a fresh code of 40 random bits, in eight signs."""
    return "".join(secrets.choice(_SIGNS) for _ in range(CODE_LENGTH))


def _normal(code: str) -> str:
    return code.strip().upper().translate(_TYPED_FOR)[:64]


def _expiry(now: datetime) -> str:
    return utc_text(now + timedelta(hours=CODE_HOURS))


def _needed(db: Database, tablet: str) -> Tablet:
    found = by_id(db, tablet)
    if found is None:
        raise LookupError(f"no tablet {tablet}")
    return found


def _read(db: Database, rest: str, *values: str) -> list[Tablet]:
    rows = db.conn.execute(f"SELECT {_COLUMNS} FROM tablet{rest}", values)  # noqa: S608
    return [Tablet(*row) for row in rows]
