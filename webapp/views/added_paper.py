"""Fix what is added after signing: its paper and its entry, in one write."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from webapp.app_db import get_db, settings
from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import ADDENDA
from webapp.catalogue.words import words
from webapp.db import writing
from webapp.note.added import AddedPaper, TakenUp
from webapp.note.identity import identity
from webapp.note.model import Attestation, Digests, Head
from webapp.note.worker import render_added
from webapp.people import access_log
from webapp.people.accounts import Person
from webapp.record import desk, desk_log, log
from webapp.record.added_papers import StoredPaper, keep, papers
from webapp.record.addenda import WITHDRAWAL, LateLine
from webapp.record.entry import sha256_hex
from webapp.record.open_record import OpenRecord
from webapp.record.records import refresh
from webapp.record.signed import Signed
from webapp.record.signing import content_digest
from webapp.say import say
from webapp.views.attesting import METHOD, role_of, writer_of
from webapp.views.paper import ChangedMeanwhile, StoredNote
from webapp.views.record_limits import began_with
from webapp.views.review import clock

FIELD = next(group for group in CATALOGUE.top if group.name == ADDENDA)


@dataclass(frozen=True, slots=True)
class Added:
    """What a person adds. `said`: the entry's value so far, by field; `late`: taken up.

    `kind`: its code. Each of `late` stands in the paper beside what the note says.
    """

    kind: str
    said: dict[str, Any]
    late: tuple[LateLine, ...]


def digest_of(record: str, late: tuple[LateLine, ...]) -> str:
    """Return the content digest of late entries: what a person reads and adds."""
    return content_digest(
        tuple(line.entry.digest for line in late),
        CATALOGUE.version,
        began_with(record).version,
        say("added.statement"),
    )


def add(
    found: OpenRecord,
    signed: Signed | None,
    note: StoredNote | None,
    added: Added,
    person: Person,
) -> None:
    """Make the paper, keep it and the addendum, in one write.

    Raises ChangedMeanwhile: when the record changed while the paper was made.
    """
    db, now = get_db(), datetime.now(UTC)
    number = len(papers(db, found.id)) + 1
    paper = _paper(found, signed, note, added, person, now, number)
    pdf = render_added(paper)
    value = _value(paper, added, person, now, sha256_hex(pdf))
    what: access_log.What = (
        "record:withdraw" if added.kind == WITHDRAWAL else "record:add"
    )
    with writing(db):
        if len(log.entries_of(db, found.id)) != len(found.logged):
            raise ChangedMeanwhile
        at = desk.stamp(settings().zone, now)
        body = desk.body_of(writer_of(person), ADDENDA, "add", value, at=at)
        entry = desk_log.append(db, found.id, body)
        keep(db, found.id, StoredPaper(number, entry, pdf))
        digest = paper.digests.content
        access_log.note(db, what, person=person.id, record=found.id, detail=digest)
        refresh(db, [found.id])


def kind_words(kind: str) -> str:
    """Return a kind as a person reads it."""
    field = FIELD.child("kind")
    return words(field, kind) if field else kind


def _paper(
    found: OpenRecord,
    signed: Signed | None,
    note: StoredNote | None,
    added: Added,
    person: Person,
    now: datetime,
    number: int,
) -> AddedPaper:
    site = settings()
    at = now.astimezone(ZoneInfo(site.zone)).replace(microsecond=0)
    day = at.date().isoformat()
    named = identity(found.case, day)
    then = identity(signed.case, day) if signed else named
    head = log.head(get_db())
    return AddedPaper(
        identity=named,
        then=None if then == named else then,
        kind=kind_words(added.kind),
        number=number,
        said=_said(added),
        taken_up=tuple(_taken_up(line) for line in added.late),
        attestation=_attestation(person, at),
        digests=Digests(
            digest_of(found.id, added.late),
            len(added.late),
            CATALOGUE.version,
            began_with(found.id).version,
        ),
        head=Head(head.position, head.chain),
        note_version=note.version if note else 0,
        note_sha256=note.pdf_sha256 if note else "",
        hospital=site.hospital,
        zone=site.zone,
        record=found.id,
        paper="Letter" if site.paper == "Letter" else "A4",
    )


def _said(added: Added) -> tuple[tuple[str, str], ...]:
    """Return what was written, as label and words, in the form's order."""
    labels = {
        "text": "added.as_text",
        "happened_at": "added.when",
        "because": "added.because",
    }
    fields = {name: FIELD.child(name) for name in labels}
    return tuple(
        (say(labels[name]), words(field, added.said[name]))
        for name, field in fields.items()
        if field is not None and name in added.said
    )


def _taken_up(line: LateLine) -> TakenUp:
    name = line.author or say("review.nobody")
    who = say("added.said_on", name=name, when=clock(line.utc))
    return TakenUp(line.label, line.was, line.now, who)


def _attestation(person: Person, at: datetime) -> Attestation:
    return Attestation(
        name=person.name,
        credential=person.credential,
        role=role_of(person),
        signed_at=at,
        zone=settings().zone,
        method=METHOD,
        statement=say("added.statement"),
    )


def _value(
    paper: AddedPaper, added: Added, person: Person, now: datetime, pdf_sha256: str
) -> dict[str, Any]:
    """Return the addendum as its entry holds it; what is empty is left out."""
    at = desk.stamp(paper.zone, now)
    moment = {name: at[name] for name in ("utc", "zone", "offset_min")}
    told = {
        "kind": added.kind,
        **added.said,
        **_difference(added),
        "by": {**writer_of(person).as_json(), "credential": person.credential},
        "moment": {**moment, "certainty": "exact", "clock": "server"},
        "statement": paper.attestation.statement,
        "method": paper.attestation.method,
        "zone": paper.zone,
        "number": str(paper.number),
        "note_version": str(paper.note_version) if paper.note_version else "",
        "note_sha256": paper.note_sha256,
        "takes_up": " ".join(line.entry.header.id for line in added.late),
        "content_digest": paper.digests.content,
        "pdf_sha256": pdf_sha256,
        "head_position": str(paper.head.position),
        "head_chain": paper.head.chain,
        "catalogue_version": str(paper.digests.catalogue),
        "limits_version": paper.digests.policy,
    }
    return {name: said for name, said in told.items() if said}


def _difference(added: Added) -> dict[str, str]:
    """Return field, old and new value where exactly one field is corrected."""
    if added.kind != "correction" or len(added.late) != 1:
        return {}
    [line] = added.late
    return {"path": line.path, "old_value": line.was, "new_value": line.now}
