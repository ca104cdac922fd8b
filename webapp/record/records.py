"""The list of records: columns derived from each fold, made again when stale."""

from __future__ import annotations

import logging
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import log
from webapp.record.addenda import is_withdrawn, late_entries, note_state
from webapp.record.case import Case
from webapp.record.counts import counts
from webapp.record.fold import FOLD_VERSION
from webapp.record.open_record import NOTHING_FRESH, Fresh, OpenRecord, open_record
from webapp.record.who import NAMELESS, is_told, operators, who_words
from webapp.say import say

# Raised when what the columns hold changes, so that old rows are made again.
COLUMNS_VERSION = 4
DERIVED_VERSION = FOLD_VERSION * 1000 + COLUMNS_VERSION
_A_ROUND = 25
_LOG = logging.getLogger(__name__)


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


@dataclass(frozen=True, slots=True)
class _Made:
    """A record's columns, and the position they were folded to."""

    row: ListedRecord
    folded_to: int


def mark(db: Database, records: Iterable[str], at: str) -> None:
    """Give records with new entries the fold_version 0. Call inside `writing(db)`.

    In the transaction that keeps the entries: a server that dies before it folded
    them knows what it owes.
    """
    db.conn.executemany(
        "INSERT INTO record (id, fold_version, folded_to, opened_at, last_at, who)"
        " VALUES (?, 0, 0, ?, ?, ?) ON CONFLICT (id) DO UPDATE SET fold_version = 0",
        [(record, at, at, NAMELESS) for record in records],
    )


def refresh(db: Database, records: Iterable[str]) -> None:
    """Fold these records again and store their columns. Call inside `writing(db)`."""
    for record in records:
        made = _made(db, record)
        if made is not None:
            _store(db, made)


def refold(db: Database, records: Iterable[str], fresh: Fresh = NOTHING_FRESH) -> None:
    """Fold marked records outside the write lock, then store their columns.

    A record that cannot be folded stays marked and is told in the server's log: the
    list must not close for the sake of one.
    """
    made: list[_Made] = []
    for record in records:
        try:
            made += filter(None, [_made(db, record, fresh)])
        except Exception:
            _LOG.exception("record not refolded: %s", record)
    with writing(db):
        for one in made:
            # Who kept more in the meantime folds it, too.
            if _state(db, one.row.id) == (one.folded_to, one.row.note_version):
                _store(db, one)


def refold_marked(db: Database) -> None:
    """Fold whatever is marked: what a server that died, or a failure, left so."""
    after = ""
    while marked := _marked(db, after):
        refold(db, marked)
        after = marked[-1]


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
    refold_marked(db)
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


def _marked(db: Database, after: str) -> list[str]:
    rows = db.conn.execute(
        "SELECT id FROM record WHERE fold_version = 0 AND id > ? ORDER BY id LIMIT ?",
        (after, _A_ROUND),
    )
    return [row[0] for row in rows]


def _made(db: Database, record: str, fresh: Fresh = NOTHING_FRESH) -> _Made | None:
    found = open_record(db, record, fresh)
    if found is None:
        return None
    return _Made(_listed(db, found), found.logged[-1].position)


def _state(db: Database, record: str) -> tuple[int, int]:
    """Return what a record's columns are made of: its last position, its last note."""
    row = db.conn.execute(
        "SELECT (SELECT max(position) FROM entry WHERE record = ?1),"
        " (SELECT coalesce(max(version), 0) FROM note WHERE record = ?1)",
        (record,),
    ).fetchone()
    return row[0], row[1]


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
    stands = _line(db, record) if is_made else None
    return stands, _listed(db, found) if found else None


def one_listed(db: Database, record: str) -> ListedRecord | None:
    """Return one record's columns, or None."""
    refold_marked(db)
    return _line(db, record)


def _line(db: Database, record: str) -> ListedRecord | None:
    names = ", ".join(ListedRecord.__slots__)
    row = db.conn.execute(
        f"SELECT {names} FROM record WHERE id = ?",  # noqa: S608 - as above
        (record,),
    ).fetchone()
    return ListedRecord(*row) if row else None


def _listed(db: Database, found: OpenRecord) -> ListedRecord:
    case = found.case
    questions = counts(case)
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
        _born(case),
        _told(case, "patient.record_number") or _absent(case, "patient.record_number"),
        _told(case, "patient.encounter_number"),
        operators(case),
        " · ".join(
            _told(case, p) or _absent(case, p) for p in case.paths_of("finish.outcome")
        ),
        questions.open,
        questions.two_answers,
        later,
        len(found.set_aside),
        version,
        note_state(case) if version or is_withdrawn(case) else "not_signed",
    )


def _entered_at(case: Case, place: int) -> str:
    """Return when the first (0) or last (-1) entry was written, by its own clock."""
    order = case.fold["order"]
    return str(case.meta(order[place])["at"]["utc"]) if order else ""


def _told(case: Case, path: str) -> str:
    answer = case.answer(path)
    return answer.words if is_told(answer.state) else ""


def _absent(case: Case, path: str) -> str:
    """Return "not known", or "not done, because": never the same as not asked."""
    answer = case.answer(path)
    return answer.words if answer.state in ("not_known", "not_done") else ""


def _born(case: Case) -> str:
    """Return birth date or age; who tells of neither has said that of the date."""
    born = _told(case, "patient.birth_date") or _told(case, "patient.estimated_age")
    absent = _absent(case, "patient.birth_date")
    if born or not absent:
        return born
    return say("review.born_absent", words=absent)


_COLUMNS = (*ListedRecord.__slots__, "fold_version", "folded_to")
_STORE = (
    f"INSERT OR REPLACE INTO record ({', '.join(_COLUMNS)})"  # noqa: S608 - our own
    f" VALUES ({', '.join('?' for _ in _COLUMNS)})"
)


def _store(db: Database, made: _Made) -> None:
    columns = [getattr(made.row, name) for name in ListedRecord.__slots__]
    db.conn.execute(_STORE, (*columns, DERIVED_VERSION, made.folded_to))
