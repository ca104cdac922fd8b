"""What is added after signing: papers of their own that leave the signed note alone.

Kinds: late entry (known then, written later), addendum (new), correction (was wrong),
an amendment the patient asked for, withdrawal. Source: CMS Program Integrity Manual,
chapter 3, 3.3.2.5: each is identified as such, dated, authored, the original kept.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import ADDENDA, ATTESTATIONS
from webapp.catalogue.words import words
from webapp.record.aside import as_kept, as_typed
from webapp.record.case import Case, Row
from webapp.record.log import LoggedEntry
from webapp.record.open_record import OpenRecord
from webapp.record.ruling import read_body
from webapp.record.signing import ABOUT, late
from webapp.say import say

WITHDRAWAL = "withdrawal"
KINDS = ("late_entry", "addendum", "correction", "patient_amendment", WITHDRAWAL)


@dataclass(frozen=True, slots=True)
class LateLine:
    """A late entry in words. `was`: what the note says there; `now`: what it says."""

    entry: LoggedEntry
    path: str
    label: str
    was: str
    now: str
    author: str
    utc: str


def about_ids(case: Case) -> set[str]:
    """Return the ids of attestations and addenda, which no signature covers."""
    return {row.id for path in ABOUT for row in case.rows(path, struck=True)}


def taken_up(case: Case) -> set[str]:
    """Return the ids of late entries that an addendum took up."""
    return {i for row in case.rows(ADDENDA) for i in ids_of(row)}


def ids_of(addendum: Row) -> list[str]:
    """Return the ids of the late entries that one addendum took up."""
    return str(addendum.value.get("takes_up", "")).split()


def late_entries(found: OpenRecord) -> list[LoggedEntry]:
    """Return the counted entries that neither a signature nor an addendum covers."""
    signed = found.case.rows(ATTESTATIONS)
    if not signed:
        return []
    after = late(found.logged, about_ids(found.case), signed[-1].value)
    had = taken_up(found.case)
    return [entry for entry in after if entry.header.id not in had]


def is_withdrawn(case: Case) -> bool:
    """Tell whether the record was withdrawn: kept, opened only with a reason."""
    return withdrawal(case) is not None


def note_state(case: Case) -> str:
    """Return what became of a signed record: signed, addended or withdrawn."""
    if is_withdrawn(case):
        return "withdrawn"
    return "addended" if case.rows(ADDENDA) else "signed"


def withdrawal(case: Case) -> Row | None:
    """Return the addendum that withdrew the record, None when none did."""
    kinds = [row for row in case.rows(ADDENDA) if row.get("kind") == WITHDRAWAL]
    return kinds[0] if kinds else None


@dataclass(frozen=True, slots=True)
class AddedLine:
    """An addendum as it is listed. `number`: of its paper, "" where it has none."""

    kind: str
    number: str
    name: str
    utc: str


def added_lines(case: Case) -> list[AddedLine]:
    """Return what was added after signing, oldest first."""
    told: list[AddedLine] = []
    for row in case.rows(ADDENDA):
        by = row.get("by") or row.meta["author"]
        name = str(by.get("name", "")) if isinstance(by, dict) else ""
        number = str(row.get("number") or "")
        told.append(AddedLine(row.words("kind"), number, name, row.meta["at"]["utc"]))
    return told


def late_lines(signed: Case, found: OpenRecord) -> list[LateLine]:
    """Return the late entries in words, beside what the signed note says there."""
    return [_line(signed, found.case, entry) for entry in late_entries(found)]


def _line(signed: Case, now: Case, entry: LoggedEntry) -> LateLine:
    body = _body(entry)
    path, value = str(body.get("path", "")), body.get("value")
    field = CATALOGUE.field(path)
    author, at = body.get("author"), body.get("at")
    name = author.get("name") if isinstance(author, dict) else None
    return LateLine(
        entry,
        path,
        field.label if field else path or say("review.unreadable"),
        _before(signed, now, path, value),
        _after(entry, body, path, value),
        name if isinstance(name, str) else "",
        str(at.get("utc", "")) if isinstance(at, dict) else "",
    )


def _before(signed: Case, now: Case, path: str, value: object) -> str:
    if isinstance(value, dict) and "strikes" in value:
        rows = now.rows(path, struck=True)
        return next((_row(r) for r in rows if r.id == value["strikes"]), "")
    field = CATALOGUE.field(path)
    if field is None or field.kind == "group":
        return ""
    return signed.answer(path).words


def _after(
    entry: LoggedEntry, body: dict[str, object], path: str, value: object
) -> str:
    if isinstance(value, dict) and "strikes" in value:
        reason = str(value.get("reason") or "")
        key = "added.struck" if reason else "added.struck_bare"
        return say(key, reason=reason)
    return as_typed(path, value) if body else as_kept(entry.body or b"")


def _row(row: Row) -> str:
    return words(row.field, row.value) if row.field else ""


def _body(entry: LoggedEntry) -> dict[str, object]:
    if entry.body is None or entry.form != "opened":
        return {}
    return read_body(entry.body) or {}
