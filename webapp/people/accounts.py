"""Accounts: who there is, in which roles, and whether it is really them."""

from __future__ import annotations

import sqlite3
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sqlite_utils import Database

from webapp.db import writing
from webapp.errors import Problem
from webapp.people import access_log
from webapp.people.npi import is_npi
from webapp.people.passwords import (
    LONGEST,
    SHORTEST,
    hash_password,
    is_acceptable,
    is_password,
)
from webapp.record.entry import uuid7
from webapp.record.log import utc_now
from webapp.say import say

# In the order in which a person of several roles is named by one.
ROLES = ("operator", "supervisor", "assistant", "nurse", "coder", "administrator")
BEDSIDE_ROLES = ("operator", "supervisor", "assistant", "nurse")
LONGEST_NAME = 120


class CannotKeep(ValueError):
    """An account, or a change of one, that is not kept. Holds what is wrong."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(p.message for p in problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class NewPerson:
    """An account to be made. `npi` and `billing_group`: "" when there is none."""

    login: str
    name: str
    roles: tuple[str, ...]
    password: str
    credential: str = ""
    npi: str = ""
    billing_group: str = ""


@dataclass(frozen=True, slots=True)
class Person:
    """An account. `session_version` rises when every session of it must end."""

    id: str
    login: str
    name: str
    credential: str
    roles: tuple[str, ...]
    npi: str
    billing_group: str
    session_version: int
    added_at: str
    deactivated_at: str | None

    @property
    def is_active(self) -> bool:
        """Return whether the person may sign in."""
        return self.deactivated_at is None

    @property
    def role(self) -> str:
        """Return the one role a person of several is named by."""
        return self.roles[0]

    def has_role(self, *roles: str) -> bool:
        """Return whether the person has any of these roles."""
        return any(role in self.roles for role in roles)

    def as_listed(self) -> dict[str, str]:
        """Return what a tablet is told of a person."""
        return {
            "id": self.id,
            "name": self.name,
            "role": self.role,
            "credential": self.credential,
        }


_COLUMNS = (
    "id, login, name, credential, roles, npi, billing_group, session_version,"
    " added_at, deactivated_at"
)


def add(
    db: Database, new: NewPerson, hashed: Callable[[str], str] = hash_password
) -> Person:
    """Make an account. Raises CannotKeep: when anything about it is not right."""
    login = normal_login(new.login)
    problems = _problems(new, login)
    if problems:
        raise CannotKeep(tuple(problems))
    roles = " ".join(role for role in ROLES if role in new.roles)
    texts = [t.strip() for t in (new.name, new.credential, new.npi, new.billing_group)]
    name, credential, npi, group = texts
    person, kept, at = uuid7(), hashed(new.password), utc_now()
    try:
        with writing(db):
            db.conn.execute(
                "INSERT INTO person (id, login, name, credential, roles, npi,"
                " billing_group, password_hash, added_at) VALUES (?,?,?,?,?,?,?,?,?)",
                (person, login, name, credential, roles, npi, group, kept, at),
            )
            access_log.note(db, "person:add", person=person, detail=roles)
    except sqlite3.IntegrityError as error:
        taken = Problem("login", "taken", say("people.login_taken", login=login))
        raise CannotKeep((taken,)) from error
    return _needed(db, person)


def people(db: Database) -> list[Person]:
    """Return every account, active ones first, by name."""
    return _read(db, " ORDER BY deactivated_at IS NOT NULL, name, id")


def active_people(db: Database) -> list[Person]:
    """Return the accounts that may sign in, by name."""
    return [person for person in people(db) if person.is_active]


def by_id(db: Database, person: str) -> Person | None:
    """Return the account with this id, or None."""
    found = _read(db, " WHERE id = ?", person)
    return found[0] if found else None


def by_login(db: Database, login: str) -> Person | None:
    """Return the account with this sign-in name, or None."""
    found = _read(db, " WHERE login = ?", normal_login(login))
    return found[0] if found else None


def verified(db: Database, login: str, password: str) -> Person | None:
    """Return the active account this password belongs to, or None.

    Takes as long whether the account exists or not. Does not count failures: see
    `people.throttle`.
    """
    person = by_login(db, login)
    active = person if person is not None and person.is_active else None
    kept = _hash_of(db, active.id) if active else None
    return active if is_password(kept, password) else None


def change_password(
    db: Database,
    person: str,
    password: str,
    hashed: Callable[[str], str] = hash_password,
) -> None:
    """Give an account a new password; every session of it ends.

    Raises CannotKeep: when the password is too short or too long.
    """
    if not is_acceptable(password):
        raise CannotKeep((_password_problem(),))
    kept = hashed(password)
    with writing(db):
        _end_sessions(db, person)
        db.conn.execute(
            "UPDATE person SET password_hash = ? WHERE id = ?", (kept, person)
        )
        access_log.note(db, "person:change_password", person=person)


def deactivate(db: Database, person: str) -> None:
    """Let a person in no more; what they entered and signed stays theirs."""
    with writing(db):
        _end_sessions(db, person)
        db.conn.execute(
            "UPDATE person SET deactivated_at = ?"
            " WHERE id = ? AND deactivated_at IS NULL",
            (utc_now(), person),
        )
        access_log.note(db, "person:deactivate", person=person)


def reactivate(db: Database, person: str) -> None:
    """Let a person in again, with the password they had."""
    with writing(db):
        db.conn.execute(
            "UPDATE person SET deactivated_at = NULL WHERE id = ?", (person,)
        )
        access_log.note(db, "person:reactivate", person=person)


def normal_login(login: str) -> str:
    """Return a sign-in name as it is kept: NFKC, lower case, no outer spaces."""
    return unicodedata.normalize("NFKC", login).strip().lower()


def _problems(new: NewPerson, login: str) -> list[Problem]:
    found: list[Problem] = []
    if not login or len(login) > 64 or not _is_plain(login) or login.startswith("@"):
        found.append(Problem("login", "shape", say("people.login_shape")))
    if not 0 < len(new.name.strip()) <= LONGEST_NAME:
        found.append(
            Problem("name", "length", say("people.name_length", most=LONGEST_NAME))
        )
    unknown = [role for role in new.roles if role not in ROLES]
    if unknown or not new.roles:
        roles = ", ".join(ROLES)
        found.append(Problem("roles", "unknown", say("people.roles", roles=roles)))
    if new.npi.strip() and not is_npi(new.npi.strip()):
        found.append(Problem("npi", "check_digit", say("people.npi")))
    if not is_acceptable(new.password):
        found.append(_password_problem())
    return found


def _is_plain(login: str) -> bool:
    return login.isprintable() and not any(sign.isspace() for sign in login)


def _password_problem() -> Problem:
    message = say("people.password", least=SHORTEST, most=LONGEST)
    return Problem("password", "length", message)


def _end_sessions(db: Database, person: str) -> None:
    db.conn.execute(
        "UPDATE person SET session_version = session_version + 1 WHERE id = ?",
        (person,),
    )
    db.conn.execute("DELETE FROM person_grant WHERE person = ?", (person,))


def _hash_of(db: Database, person: str) -> str:
    row = db.conn.execute(
        "SELECT password_hash FROM person WHERE id = ?", (person,)
    ).fetchone()
    return str(row[0])


def _needed(db: Database, person: str) -> Person:
    found = by_id(db, person)
    if found is None:
        raise LookupError(f"no person {person}")
    return found


def _read(db: Database, rest: str, *values: str) -> list[Person]:
    rows = db.conn.execute(f"SELECT {_COLUMNS} FROM person{rest}", values)  # noqa: S608
    return [_person(tuple(row)) for row in rows]


def _person(row: tuple[Any, ...]) -> Person:
    first, roles, rest = row[:4], tuple(row[4].split()), row[5:]
    return Person(*first, roles, *rest)  # type: ignore[call-arg]  # of _COLUMNS
