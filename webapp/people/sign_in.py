"""Try a password: count failures, refuse after too many, note either."""

from __future__ import annotations

from sqlite_utils import Database

from webapp.people import access_log, accounts, throttle
from webapp.people.access_log import What
from webapp.people.accounts import Person
from webapp.people.throttle import LONGEST_KEY, Limits


def try_password(
    db: Database, login: str, password: str, address: str, limits: Limits, refusal: What
) -> Person | None:
    """Return whose password this is, or None.

    None alike for an unknown name, a wrong password, a closed account and too many
    tries. `refusal`: what a failure is called in the access log.
    """
    key = accounts.normal_login(login)[:LONGEST_KEY]
    if throttle.must_wait(db, key, address, limits):
        return None
    person = accounts.verified(db, login, password)
    if person is not None:
        throttle.forget(db, key, address)
        return person
    throttle.count_failure(db, key, address, limits)
    known = accounts.by_login(db, login)
    access_log.note(
        db, refusal, person=known.id if known else None, detail=f"from {address}"
    )
    return None
