"""Hand out codes as a file: number the lines, write the bytes, log both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlite_utils import Database

from webapp.coding.csv_export import CannotExport, codes_csv
from webapp.coding.handed import Handing, as_kept, rows_of
from webapp.coding.row_head import NoteFacts
from webapp.coding.sheet import Sheet, line_key, numbered
from webapp.db import writing
from webapp.errors import Conflict, Problem
from webapp.people import access_log, accounts
from webapp.people.accounts import Person
from webapp.record import exports
from webapp.record.entry import sha256_hex
from webapp.record.exports import Export
from webapp.record.log import utc_now
from webapp.record.open_record import OpenRecord
from webapp.record.signed import Signed
from webapp.record.who import who_words
from webapp.say import say
from webapp.views.code_facts import site_judge
from webapp.views.coding_case import coded

WHAT = "codes.csv"


@dataclass(frozen=True, slots=True)
class File:
    """A file as it was handed out and logged."""

    export_id: str
    data: bytes


@dataclass(frozen=True, slots=True)
class _Ready:
    """A signed record with its sheet."""

    found: OpenRecord
    signed: Signed
    sheet: Sheet


def hand_out(db: Database, found: Sequence[OpenRecord], person: Person) -> File:
    """Write one file of these records' lines and log it.

    Raises Conflict: naming the records nobody signed, or the cell that no column
    can hold; then nothing is logged and no line gets a number.
    """
    ready = [_ready(one) for one in found]
    unsigned = [who_words(o.case) for o, r in zip(found, ready, strict=True) if not r]
    if unsigned:
        raise Conflict(say("coding.not_signed_which", who="; ".join(unsigned)))
    records = [r for r in ready if r is not None]
    with writing(db):
        export_id = exports.next_id(db)
        rows = [row for one in records for row in _rows(db, export_id, one)]
        data = _written(rows)
        kept = Export(
            export_id,
            utc_now(),
            person.id,
            WHAT,
            tuple(one.found.id for one in records),
            len(rows),
            sha256_hex(data),
        )
        exports.keep(db, kept)
        for one in records:
            access_log.note(
                db,
                "codes:hand_out",
                person=person.id,
                record=one.found.id,
                detail=export_id,
            )
    return File(export_id, data)


def _ready(found: OpenRecord) -> _Ready | None:
    read = coded(found)
    return _Ready(found, read.signed, read.sheet) if read.signed else None


def _rows(db: Database, export_id: str, one: _Ready) -> list[dict[str, str]]:
    note = exports.signed_note(db, one.found.id)
    if note is None:
        raise Conflict(say("coding.not_signed"))
    kept = exports.lines_of(db, one.found.id)
    lines = numbered(one.sheet, {key: line.line for key, line in kept.items()})
    facts = NoteFacts(
        one.found.id,
        note.version,
        note.pdf_sha256,
        one.signed.state,
        one.signed.signers,
        {p.id: p.npi for p in accounts.people(db) if p.npi},
    )
    handing = Handing(export_id, site_judge().site, lines, kept)
    rows = rows_of(handing, one.sheet, facts)
    own = [f for view in one.sheet.views for f in one.sheet.lines_of(view)]
    now = {line_key(f): as_kept(f, lines[line_key(f)]) for f in own}
    exports.keep_lines(db, one.found.id, now)
    return rows


def _written(rows: list[dict[str, str]]) -> bytes:
    try:
        return codes_csv(rows)
    except CannotExport as refused:
        told = say(
            "coding.cannot_hold",
            who=refused.record,
            column=refused.column,
            cell=refused.cell,
            wanted=refused.wanted,
        )
        problem = Problem(refused.column, "not_of_column", told)
        raise Conflict(told, (problem,)) from refused
