"""Rule again on entries that were set aside: a later server may let them count.

Nothing that counts is ever set aside. Each later ruling is told by an entry of the
desk, so that the chain covers it and every tablet hears of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import desk_log, later, log, tablet_logs
from webapp.record.arrival import Arrived, judged_as_read
from webapp.record.desk import Writer, body_of
from webapp.record.entry import digest, sha256_hex
from webapp.record.keyring import Keyring
from webapp.record.log import LoggedEntry, Ruling
from webapp.record.named import named_entries
from webapp.record.records import refresh
from webapp.record.ruling import read_body, reason_against_names
from webapp.record.seal import CannotOpen, open_sealed
from webapp.record.wraps import Keys
from webapp.say import say

RULINGS = "rulings"
SERVER = Writer("", "Wiremark server", "server", "UTC")
_A_ROUND = 100


@dataclass(frozen=True, slots=True)
class Reopened:
    """A set-aside entry whose body can be read now. `arrived`: as if it came now."""

    logged: LoggedEntry
    arrived: Arrived

    @property
    def is_newly_open(self) -> bool:
        """Return whether the body could not be opened before."""
        return self.logged.form == "sealed"


def rule_again(db: Database, found: Reopened, reason: str) -> tuple[Ruling, str]:
    """Rule on an entry and tell it in its record. Call inside `writing(db)`.

    `reason`: key of the reason against it, "" when it counts from now on. Return the
    ruling and the reason in words.
    """
    ruling: Ruling = "set_aside" if reason else "counted"
    because = say(reason) if reason else ""
    header, opened = found.logged.header, found.arrived.opened or b""
    value = {
        "entry": header.id,
        "ruling": ruling,
        "digest": digest(header.encode(), sha256_hex(opened)),
    }
    body = by_server(RULINGS, {**value, "because": because} if because else value)
    _, told_at = desk_log.append_at(db, header.record, body)
    new = opened if found.is_newly_open else None
    later.rule_again(db, found.logged.position, ruling, because, told_at, new)
    return ruling, because


def by_server(path: str, value: dict[str, Any]) -> dict[str, Any]:
    """Return the body of an entry that no person wrote."""
    return {**body_of(SERVER, path, "add", value), "how": "none"}


def reconsider(db: Database, keyring: Keyring) -> int:
    """Rule again on all that is set aside; return how many entries count now.

    Writes in small steps, so that tablets need not wait.
    """
    released, after = 0, 0
    while batch := log.set_aside(db, after, _A_ROUND):
        after = batch[-1].position
        released += sum(_reconsidered(db, keyring, batch))
    return released


def _reconsidered(
    db: Database, keyring: Keyring, batch: Iterable[LoggedEntry]
) -> list[bool]:
    keys = Keys(keyring, ())
    waiting = [one for one in batch if not tablet_logs.was_revoked(db, one)]
    keys.add_kept(db, {one.header.key for one in waiting})
    counts: list[bool] = []
    for logged in waiting:
        found = reopened(logged, keys)
        if found is None or not (found.is_newly_open or not found.arrived.against):
            continue
        with writing(db):
            reason = reason_now(db, found.arrived)
            if reason and not found.is_newly_open:
                continue
            counts.append(rule_again(db, found, reason)[0] == "counted")
            refresh(db, [logged.header.record])
    return counts


def reopened(logged: LoggedEntry, keys: Keys) -> Reopened | None:
    """Return an entry read anew by what this server knows now; None: still sealed."""
    if logged.body is None:
        return None
    opened, header = logged.body, logged.header
    if logged.form == "sealed":
        key = keys.key_for(header.key, header.record, header.log)
        try:
            opened = open_sealed(key or b"", header.encode(), logged.body)
        except CannotOpen:
            return None
    body = read_body(opened)
    against = judged_as_read(header, body).against
    arrived = Arrived(header, logged.body, opened, body, against)
    return Reopened(logged, arrived)


def reason_now(db: Database, one: Arrived) -> str:
    """Return why an entry does not count, by today's rules and today's log."""
    if one.against or one.body is None:
        return one.against
    known = named_entries(db, [one])
    return reason_against_names(one.body, one.header.id, one.header.record, known)
