"""From the log to a case: read, open and fold one record's counted entries."""

from __future__ import annotations

from dataclasses import dataclass

from sqlite_utils import Database

from webapp.catalogue import CATALOGUE
from webapp.record import log
from webapp.record.case import Case
from webapp.record.entry import UnreadableBody, decode_body
from webapp.record.fold import Opened, fold
from webapp.record.log import LoggedEntry


@dataclass(frozen=True, slots=True)
class OpenRecord:
    """One record: its case, all its entries, and those that are set aside."""

    id: str
    case: Case
    logged: tuple[LoggedEntry, ...]

    @property
    def counted(self) -> list[LoggedEntry]:
        """Return the entries that count, in position order."""
        return [e for e in self.logged if e.ruling == "counted"]

    @property
    def set_aside(self) -> list[LoggedEntry]:
        """Return the entries kept but not counted, with their reasons."""
        return [e for e in self.logged if e.ruling == "set_aside"]


def open_record(db: Database, record: str) -> OpenRecord | None:
    """Return a record, or None when no entry names it. Does not write."""
    logged = tuple(log.entries_of(db, record))
    if not logged:
        return None
    opened = [o for o in map(opened_entry, logged) if o is not None]
    return OpenRecord(record, Case(fold(opened), CATALOGUE), logged)


def opened_entry(logged: LoggedEntry) -> Opened | None:
    """Return a counted entry with its body read; None for any other."""
    if logged.ruling != "counted" or logged.body is None or logged.form != "opened":
        return None
    try:
        body = decode_body(logged.body)
    except UnreadableBody:
        # Receipt never counts such a body; an erased or damaged one is not read.
        return None
    header = logged.header
    return Opened(header.id, header.log, header.seq, body)
