"""Compose the note from what the other parts know, and fix it by a signature."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlite_utils import Database

from webapp.app_db import get_db, settings
from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import ATTESTATIONS
from webapp.clinical.policy_kept import written
from webapp.db import writing
from webapp.note.model import Attestation, CodeFact, Digests, Head, Held, NoteInput
from webapp.note.worker import render
from webapp.people import access_log
from webapp.people.accounts import Person
from webapp.record import desk, desk_log, log
from webapp.record.addenda import about_ids
from webapp.record.entry import sha256_hex
from webapp.record.open_record import OpenRecord
from webapp.record.records import refresh
from webapp.record.signing import Covered, content_digest, covered, undelivered
from webapp.say import say
from webapp.views.attesting import Reasons, attestation, earlier, writer_of
from webapp.views.code_facts import code_facts, code_head
from webapp.views.photo_paper import note_photos
from webapp.views.record_limits import began_with


@dataclass(frozen=True, slots=True)
class StoredNote:
    """A signed note's bytes, as they were fixed."""

    version: int
    pdf: bytes
    pdf_sha256: str


def stored_note(
    db: Database, record: str, version: int | None = None
) -> StoredNote | None:
    """Return the signed note of a record: that version, or the newest. Else None."""
    row = db.conn.execute(
        "SELECT version, pdf, pdf_sha256 FROM note"
        " WHERE record = ? AND (? IS NULL OR version = ?)"
        " ORDER BY version DESC LIMIT 1",
        (record, version, version),
    ).fetchone()
    return StoredNote(row[0], bytes(row[1]), row[2]) if row else None


def digest_of(record: str, now: Covered) -> str:
    """Return the content digest of a record that a person reads and signs."""
    return content_digest(
        now.digests,
        CATALOGUE.version,
        began_with(record).version,
        say("sign.statement"),
    )


def draft(found: OpenRecord) -> bytes:
    """Return the note as it stands, marked not signed on every page."""
    now = covered(found.logged, about_ids(found.case))
    return render(_note(found, now, (), datetime.now(UTC)))


def sign(found: OpenRecord, now: Covered, person: Person, why: Reasons) -> None:
    """Fix what was read: make the note, keep it and the attestation, in one write.

    Raises ChangedMeanwhile: when the record changed while the note was made.
    """
    signed_at = datetime.now(UTC)
    db = get_db()
    given = attestation(db, found, person, signed_at, why)
    all_given = (*earlier(found, digest_of(found.id, now), person), given)
    pdf = render(_note(found, now, all_given, signed_at))
    with writing(db):
        if len(log.entries_of(db, found.id)) != len(found.logged):
            raise ChangedMeanwhile
        _keep(db, found, now, person, given, pdf)
        refresh(db, [found.id])


class ChangedMeanwhile(Exception):
    """An entry arrived between reading and signing: nothing was signed."""


def _keep(
    db: Database,
    found: OpenRecord,
    now: Covered,
    person: Person,
    given: Attestation,
    pdf: bytes,
) -> None:
    digest, pdf_sha256 = digest_of(found.id, now), sha256_hex(pdf)
    head = log.head(db)
    at = desk.stamp(settings().zone, given.signed_at)
    told = {
        "by": {**writer_of(person).as_json(), "credential": person.credential},
        "moment": {**_moment(at), "certainty": "exact", "clock": "server"},
        "meaning": given.role,
        "statement": given.statement,
        "method": given.method,
        "zone": settings().zone,
        "content_digest": digest,
        "pdf_sha256": pdf_sha256,
        "sections_opened": "; ".join(given.sections_opened),
        "late_because": given.late_because,
        "undelivered_because": given.undelivered_because,
        "head_position": str(head.position),
        "head_chain": head.chain,
        "catalogue_version": str(CATALOGUE.version),
        "limits_version": began_with(found.id).version,
        "covered_upto": str(now.upto),
        "left_out": " ".join(now.left_out),
    }
    value = {name: said for name, said in told.items() if said}
    body = desk.body_of(writer_of(person), ATTESTATIONS, "add", value, at=at)
    entry = desk_log.append(db, found.id, body)
    db.conn.execute(
        "INSERT INTO note (record, version, attestation, content_digest, pdf,"
        " pdf_sha256, made_at) VALUES (?, (SELECT coalesce(max(version), 0) + 1"
        " FROM note WHERE record = ?), ?, ?, ?, ?, ?)",
        (found.id, found.id, entry, digest, pdf, pdf_sha256, log.utc_now()),
    )
    access_log.note(db, "record:sign", person=person.id, record=found.id, detail=digest)


def _note(
    found: OpenRecord,
    now: Covered,
    given: tuple[Attestation, ...],
    printed_at: datetime,
) -> NoteInput:
    site = settings()
    head = log.head(get_db())
    facts: tuple[CodeFact, ...] = code_facts(found)
    policy = began_with(found.id)
    return NoteInput(
        case=found.case,
        attestation=given[0] if given else None,
        cosigned=given[1:],
        head=Head(head.position, head.chain),
        digests=Digests(
            digest_of(found.id, now),
            len(now.ids),
            CATALOGUE.version,
            policy.version,
        ),
        code_facts=facts,
        hospital=site.hospital,
        zone=site.zone,
        printed_at=printed_at.astimezone(ZoneInfo(site.zone)).replace(microsecond=0),
        limits=policy.version,
        policy=written(policy),
        undelivered=tuple(
            Held(u.name, u.last_seen_at, u.missing)
            for u in undelivered(get_db(), found.id)
            if u.missing
        ),
        paper="Letter" if site.paper == "Letter" else "A4",
        code_head=code_head(found),
        record=found.id,
        photos=note_photos(found),
    )


def _moment(at: dict[str, Any]) -> dict[str, Any]:
    return {name: at[name] for name in ("utc", "zone", "offset_min")}
