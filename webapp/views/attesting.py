"""What a signature says beside its digests: who, in which role, having read what."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlite_utils import Database

from webapp.app_db import settings
from webapp.catalogue.lookup import ATTESTATIONS
from webapp.catalogue.moments import read_instant
from webapp.note.model import Attestation
from webapp.people import access_log
from webapp.people.accounts import Person
from webapp.record import desk
from webapp.record.case import Row
from webapp.record.entry import DESK_LOG
from webapp.record.open_record import OpenRecord
from webapp.say import say

SIGNERS = ("operator", "supervisor")
METHOD = "password, asked again at signing"
OPENED = {"record:open": "sign.opened_record", "note:open": "sign.opened_note"}


@dataclass(frozen=True, slots=True)
class Reasons:
    """Why somebody signs all the same; "" where nothing asks for a reason."""

    undelivered: str = ""
    late: str = ""


def attestation(
    db: Database, found: OpenRecord, person: Person, at: datetime, why: Reasons
) -> Attestation:
    """Return the signature a person gives now."""
    zone = settings().zone
    return Attestation(
        name=person.name,
        credential=person.credential,
        role=signing_role(found, person),
        signed_at=at.astimezone(ZoneInfo(zone)).replace(microsecond=0),
        zone=zone,
        method=METHOD,
        statement=say("sign.statement"),
        late_because=why.late,
        undelivered_because=why.undelivered,
        sections_opened=sections_opened(db, found, person),
    )


def earlier(found: OpenRecord, digest: str, person: Person) -> tuple[Attestation, ...]:
    """Return the signatures others gave to exactly this content, oldest first."""
    return tuple(
        _as_given(row)
        for row in found.case.rows(ATTESTATIONS)
        if row.value.get("content_digest") == digest and _by(row, person) is False
    )


def has_signed(found: OpenRecord, digest: str, person: Person) -> bool:
    """Return whether this person signed exactly this content already."""
    return any(
        row.value.get("content_digest") == digest and _by(row, person)
        for row in found.case.rows(ATTESTATIONS)
    )


def signing_role(found: OpenRecord, person: Person) -> str:
    """Return the role a person signs in: who may be both supervises another's note."""
    meanings = [
        row.get("meaning")
        for row in found.case.rows(ATTESTATIONS)
        if _by(row, person) is False
    ]
    if "supervisor" in person.roles and "operator" in meanings:
        return "supervisor"
    return role_of(person)


def role_of(person: Person) -> str:
    """Return the role a person writes in at the desk."""
    return next((r for r in person.roles if r in SIGNERS), person.roles[0])


def writer_of(person: Person) -> desk.Writer:
    """Return a person as a writer of desk entries."""
    return desk.Writer(person.id, person.name, role_of(person), settings().zone)


def sections_opened(db: Database, found: OpenRecord, person: Person) -> tuple[str, ...]:
    """Return what a person opened of a record since its last entry came, with when."""
    since = found.logged[-1].received_at if found.logged else ""
    zone = ZoneInfo(settings().zone)
    told: dict[str, str] = {}
    for line in reversed(access_log.of_record(db, found.id)):
        at = read_instant(line.at)
        if line.person != person.id or line.what not in OPENED or line.at < since:
            continue
        when = f"{at.astimezone(zone):%H:%M}" if at else line.at
        told[line.what] = say(OPENED[line.what], when=when)
    return tuple(told.values())


def is_late(found: OpenRecord, now: datetime | None = None) -> bool:
    """Tell whether the site asks why this record is signed so late.

    It does when `sign_within_h` hours have passed since a tablet last wrote.
    """
    within_h = settings().sign_within_h
    written = [
        at
        for entry in found.counted
        if entry.header.log != DESK_LOG
        and (at := read_instant(entry.received_at)) is not None
    ]
    if not within_h or not written:
        return False
    return (now or datetime.now(UTC)) - max(written) > timedelta(hours=within_h)


def _by(row: Row, person: Person) -> bool:
    by = row.get("by")
    return isinstance(by, dict) and by.get("person") == person.id


def _as_given(row: Row) -> Attestation:
    """Return a signature as its entry holds it."""
    by = row.get("by") if isinstance(row.get("by"), dict) else {}
    zone = str(row.get("zone") or settings().zone)
    at = read_instant(row.meta["at"]["utc"]) or datetime.fromtimestamp(0, UTC)
    opened = str(row.get("sections_opened") or "")
    return Attestation(
        name=str(by.get("name", "")),
        credential=str(by.get("credential", "")),
        role=str(row.get("meaning") or ""),
        signed_at=at.astimezone(ZoneInfo(zone)).replace(microsecond=0),
        zone=zone,
        method=str(row.get("method") or ""),
        statement=str(row.get("statement") or ""),
        late_because=str(row.get("late_because") or ""),
        undelivered_because=str(row.get("undelivered_because") or ""),
        sections_opened=tuple(opened.split("; ")) if opened else (),
    )
