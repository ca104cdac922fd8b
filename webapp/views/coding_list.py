"""The list of the coding desk: records by what a coder can do with them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from sqlite_utils import Database

from webapp.catalogue.moments import read_instant
from webapp.record import exports
from webapp.record.records import ListedRecord, listed

READY, NOT_SIGNED, WITHDRAWN = "ready", "not_signed", "withdrawn"
ORDER = (READY, NOT_SIGNED, WITHDRAWN)


@dataclass(frozen=True, slots=True)
class CodingRow:
    """One record. `since`: UTC text; `days`: whole days since then; `handed`: id."""

    id: str
    who: str
    number: str
    state: str
    version: int
    late: int
    since: str
    days: int
    handed: str
    handed_at: str


def listed_for_coding(db: Database, now: datetime | None = None) -> list[CodingRow]:
    """Return every record: ready ones first, the oldest of each state on top."""
    handed, made = exports.last_handed(db), exports.signed_at(db)
    at = now or datetime.now(UTC)
    rows = [_row(r, made.get(r.id, ""), handed.get(r.id), at) for r in listed(db)]
    return sorted(rows, key=lambda row: (ORDER.index(row.state), row.since))


def _row(
    record: ListedRecord,
    made_at: str,
    handed: tuple[str, str] | None,
    now: datetime,
) -> CodingRow:
    state = READY if made_at else NOT_SIGNED
    since = made_at or record.opened_at
    export_id, handed_at = handed or ("", "")
    return CodingRow(
        record.id,
        record.who,
        record.number,
        WITHDRAWN if record.state == WITHDRAWN else state,
        record.note_version,
        record.late_entries,
        since,
        max(0, (now - (read_instant(since) or now)).days),
        export_id,
        handed_at,
    )
