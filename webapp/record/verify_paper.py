"""Signed notes: held against the entries, and against their own digests."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlite_utils import Database

from webapp.catalogue.lookup import ADDENDA, ATTESTATIONS
from webapp.record import log, signing
from webapp.record.addenda import about_ids, ids_of
from webapp.record.entry import sha256_hex
from webapp.record.open_record import OpenRecord, open_record
from webapp.record.verify_log import UNFOLDABLE, Found, raw_of


def notes(db: Database) -> Iterator[Found]:
    """Hold each note against its attestation, and each attestation against the log."""
    attested: set[str] = set()
    noted = db.conn.execute("SELECT DISTINCT record FROM note").fetchall()
    signed = db.conn.execute(
        "SELECT DISTINCT e.record FROM entry e JOIN body b ON b.position = e.position"
        " WHERE e.log = 'desk' AND instr(b.bytes, '\"attestations\"')"
    ).fetchall()
    for record in sorted({str(row[0]) for row in (*noted, *signed)}):
        try:
            found = open_record(db, record)
            if found is not None:
                yield from list(_record(db, found, attested))
        except UNFOLDABLE:
            yield "record", record, "verify.unfoldable"
    for record, version, attestation in db.conn.execute(
        "SELECT record, version, attestation FROM note"
    ).fetchall():
        if attestation not in attested:
            yield "note", f"{record} {version}", "verify.note_unsigned"


def added(db: Database) -> Iterator[Found]:
    """Hold each paper added after signing against its addendum, and the reverse."""
    papers = {
        str(entry): (str(record), int(number), sha256_hex(raw_of(pdf)), str(told))
        for entry, record, number, pdf, told in db.conn.execute(
            "SELECT entry, record, number, pdf, pdf_sha256 FROM added_paper"
        )
    }
    named = db.conn.execute(
        "SELECT DISTINCT e.record FROM entry e JOIN body b ON b.position = e.position"
        " WHERE e.log = 'desk' AND instr(b.bytes, '\"addenda\"')"
    ).fetchall()
    for record in sorted({str(row[0]) for row in named}):
        try:
            found = open_record(db, record)
            if found is not None:
                yield from list(_addenda(db, found, papers))
        except UNFOLDABLE:
            yield "record", record, "verify.unfoldable"
    for record, number, _, _ in papers.values():
        yield "paper", f"{record} {number}", "verify.paper_unsigned"


def _addenda(
    db: Database, found: OpenRecord, papers: dict[str, tuple[str, int, str, str]]
) -> Iterator[Found]:
    """Take the papers of one record's addenda out of `papers`, each held as it goes."""
    digests = {e.header.id: e.digest for e in found.logged}
    for row in found.case.rows(ADDENDA, struck=True):
        told = row.value
        if not told.get("pdf_sha256"):
            continue
        taken = [digests.get(i, "") for i in ids_of(row)]
        if _digest(tuple(taken), told) != told.get("content_digest"):
            yield "addendum", row.id, "verify.content"
        if not _is_head_known(db, told):
            yield "addendum", row.id, "verify.head"
        paper = papers.pop(row.id, None)
        if paper is None:
            yield "paper", f"of addendum {row.id}", "verify.paper_gone"
        elif {paper[2], paper[3]} != {told["pdf_sha256"]}:
            yield "paper", f"{paper[0]} {paper[1]}", "verify.paper"


def _record(db: Database, found: OpenRecord, attested: set[str]) -> Iterator[Found]:
    about = about_ids(found.case)
    for row in found.case.rows(ATTESTATIONS, struck=True):
        told = row.value
        if not told.get("content_digest"):
            continue
        attested.add(row.id)
        if _content(found, about, told) != told["content_digest"]:
            yield "attestation", row.id, "verify.content"
        if not _is_head_known(db, told):
            yield "attestation", row.id, "verify.head"
        yield from _note(db, row.id, told)


def _note(db: Database, attestation: str, told: dict[str, Any]) -> Iterator[Found]:
    note = db.conn.execute(
        "SELECT record, version, content_digest, pdf, pdf_sha256 FROM note"
        " WHERE attestation = ?",
        (attestation,),
    ).fetchone()
    if note is None:
        yield "note", f"of attestation {attestation}", "verify.note_gone"
        return
    record, version, digest, pdf, pdf_sha256 = note
    stands = (digest, sha256_hex(raw_of(pdf)), pdf_sha256)
    signed = (told["content_digest"], told.get("pdf_sha256"), told.get("pdf_sha256"))
    if stands != signed:
        yield "note", f"{record} {version}", "verify.note"


def _content(found: OpenRecord, about: set[str], told: dict[str, Any]) -> str:
    """Return the digest of what this attestation covers, worked out again."""
    left_out = set(str(told.get("left_out", "")).split())
    upto = int(told["covered_upto"])
    digests = tuple(
        e.digest
        for e in found.logged
        if e.position <= upto and e.header.id not in left_out | about
    )
    return _digest(digests, told)


def _digest(digests: tuple[str, ...], told: dict[str, Any]) -> str:
    return signing.content_digest(
        digests,
        int(told["catalogue_version"]),
        str(told["limits_version"]),
        str(told["statement"]),
    )


def _is_head_known(db: Database, told: dict[str, Any]) -> bool:
    return log.chain_at(db, int(told["head_position"])) == str(told["head_chain"])
