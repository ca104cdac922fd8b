"""The list of records: columns derived from each fold, made again when stale."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import log
from webapp.record.case import Case
from webapp.record.fold import FOLD_VERSION
from webapp.record.log import LoggedEntry
from webapp.record.open_record import OpenRecord, open_record
from webapp.record.questions import open_questions
from webapp.record.signing import ABOUT, ATTESTATIONS, late

# Raised when what the columns hold changes, so that old rows are made again.
COLUMNS_VERSION = 2
DERIVED_VERSION = FOLD_VERSION * 1000 + COLUMNS_VERSION
NAMELESS = "NAME NOT KNOWN"


@dataclass(frozen=True, slots=True)
class ListedRecord:
    """One line of the records list; texts are for display, "" is not said."""

    id: str
    opened_at: str
    last_at: str
    who: str
    born: str
    number: str
    encounter: str
    operator: str
    outcome: str
    open_questions: int
    two_answers: int
    late_entries: int
    set_aside: int
    note_version: int
    state: str


def refresh(db: Database, records: Iterable[str]) -> None:
    """Fold these records again and store their columns. Call inside `writing(db)`."""
    for record in records:
        found = open_record(db, record)
        if found is not None:
            _store(db, _listed(db, found), found.logged[-1].position)


def has_stale(db: Database) -> bool:
    """Return whether any record was folded by an older version, or never."""
    return bool(_stale(db))


def refresh_stale(db: Database) -> int:
    """Fold again what an older version folded; return how many records that was."""
    stale = _stale(db)
    for record in stale:
        with writing(db):
            refresh(db, [record])
    return len(stale)


def _stale(db: Database) -> list[str]:
    rows = db.conn.execute("SELECT id, fold_version FROM record")
    fresh = {row[0] for row in rows if row[1] == DERIVED_VERSION}
    return [record for record in log.record_ids(db) if record not in fresh]


def listed(db: Database, search: str = "", state: str = "") -> list[ListedRecord]:
    """Return the records, unsigned and oldest first.

    `search`: part of a number, an encounter or a name; `state`: one state or "".
    """
    names = ", ".join(ListedRecord.__slots__)
    rows = db.conn.execute(
        f"SELECT {names} FROM record"  # noqa: S608 - column names of our own class
        " WHERE ? = '' OR state = ? ORDER BY note_version > 0, opened_at, id",
        (state, state),
    )
    found = (ListedRecord(*row) for row in rows)
    # Not LIKE, which takes % and _ for more than signs, and Ł and ł for two letters.
    wanted = _plain(search.strip())
    return [
        one
        for one in found
        if any(wanted in _plain(t) for t in (one.number, one.encounter, one.who))
    ]


def _plain(text: str) -> str:
    return unicodedata.normalize("NFC", text).casefold()


def known_ids(db: Database) -> list[str]:
    """Return every record that entries name, or that stands in the list."""
    rows = db.conn.execute("SELECT record FROM entry UNION SELECT id FROM record")
    return sorted(str(row[0]) for row in rows)


def standing_and_made(
    db: Database, record: str
) -> tuple[ListedRecord | None, ListedRecord | None]:
    """Return a record's line as it stands and as it is made now. Does not write.

    The standing one is None where this version has not made it yet; the other where
    no entry names the record.
    """
    found = open_record(db, record)
    version = db.conn.execute(
        "SELECT fold_version FROM record WHERE id = ?", (record,)
    ).fetchone()
    is_made = version is not None and version[0] == DERIVED_VERSION
    stands = one_listed(db, record) if is_made else None
    return stands, _listed(db, found) if found else None


def one_listed(db: Database, record: str) -> ListedRecord | None:
    """Return one record's columns, or None."""
    names = ", ".join(ListedRecord.__slots__)
    row = db.conn.execute(
        f"SELECT {names} FROM record WHERE id = ?",  # noqa: S608 - as above
        (record,),
    ).fetchone()
    return ListedRecord(*row) if row else None


def who_words(case: Case) -> str:
    """Return the name as it heads every page; the alias when there is none."""
    family = case.answer("patient.family_name")
    given = case.answer("patient.given_name")
    name = ", ".join(a.words for a in (family, given) if a.heads and _is_told(a.state))
    if name:
        return name
    alias = case.answer("patient.alias")
    return f"{NAMELESS}, {alias.words}" if alias.is_answered else NAMELESS


def operators(case: Case) -> str:
    """Return the operators named in the record, comma between."""
    people = case.rows("patient.people")
    named = [r.get("person") for r in people if r.get("role") == "operator"]
    return ", ".join(p["name"] for p in named if isinstance(p, dict) and "name" in p)


def _is_told(state: str) -> bool:
    return state in ("answered", "two_answers", "impossible")


def _listed(db: Database, found: OpenRecord) -> ListedRecord:
    case = found.case
    questions = open_questions(case)
    notes = db.conn.execute(
        "SELECT max(version) FROM note WHERE record = ?", (found.id,)
    ).fetchone()
    version = notes[0] or 0
    later = len(late_entries(found)) if version else 0
    return ListedRecord(
        found.id,
        _entered_at(case, 0) or found.logged[0].received_at,
        _entered_at(case, -1) or found.logged[-1].received_at,
        who_words(case),
        _told(case, "patient.birth_date") or _told(case, "patient.estimated_age"),
        _told(case, "patient.record_number"),
        _told(case, "patient.encounter_number"),
        operators(case),
        " · ".join(_told(case, p) for p in case.paths_of("finish.outcome")),
        len(questions),
        sum(q.why == "two_answers" for q in questions),
        later,
        len(found.set_aside),
        version,
        "signed" if version else "not_signed",
    )


def about_ids(case: Case) -> set[str]:
    """Return the ids of attestations and addenda, which no signature covers."""
    return {row.id for path in ABOUT for row in case.rows(path, struck=True)}


def late_entries(found: OpenRecord) -> list[LoggedEntry]:
    """Return the counted entries that the last attestation does not cover."""
    signed = found.case.rows(ATTESTATIONS)
    if not signed:
        return []
    return late(found.logged, about_ids(found.case), signed[-1].value)


def _entered_at(case: Case, place: int) -> str:
    """Return when the first (0) or last (-1) entry was written, by its own clock."""
    order = case.fold["order"]
    return str(case.meta(order[place])["at"]["utc"]) if order else ""


def _told(case: Case, path: str) -> str:
    answer = case.answer(path)
    return answer.words if _is_told(answer.state) else ""


def _store(db: Database, row: ListedRecord, folded_to: int) -> None:
    values: dict[str, Any] = {
        **asdict(row),
        "fold_version": DERIVED_VERSION,
        "folded_to": folded_to,
    }
    names = ", ".join(values)
    marks = ", ".join("?" for _ in values)
    db.conn.execute(
        f"INSERT OR REPLACE INTO record ({names}) VALUES ({marks})",  # noqa: S608
        tuple(values.values()),
    )
