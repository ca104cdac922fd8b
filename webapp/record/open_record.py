"""From the log to a case: read, open and fold one record's counted entries."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlite_utils import Database

from webapp.catalogue import CATALOGUE
from webapp.record import log
from webapp.record.case import Case
from webapp.record.entry import UnreadableBody, decode_body
from webapp.record.fold import Opened, fold
from webapp.record.log import LoggedEntry


@dataclass(frozen=True, slots=True)
class Fresh:
    """What is known of entries just kept, so that nobody reads them twice.

    `logged`: the entries by record, in position order; `bodies`: their bodies, by id;
    `sound`: ids of those with nothing impossible.
    """

    logged: Mapping[str, Sequence[LoggedEntry]] = field(default_factory=dict)
    bodies: Mapping[str, dict[str, Any]] = field(default_factory=dict)
    sound: Collection[str] = frozenset()


NOTHING_FRESH = Fresh()


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


def open_record(
    db: Database, record: str, fresh: Fresh = NOTHING_FRESH
) -> OpenRecord | None:
    """Return a record, or None when no entry names it. Does not write."""
    logged = _logged(db, record, fresh)
    if not logged:
        return None
    opened = [o for o in (opened_entry(e, fresh) for e in logged) if o is not None]
    return OpenRecord(record, Case(fold(opened), CATALOGUE, fresh.sound), logged)


def _logged(db: Database, record: str, fresh: Fresh) -> tuple[LoggedEntry, ...]:
    """Return a record's entries, read again only where there is more than the fresh.

    A batch is kept in one piece: with the same first and last entry it is the whole
    record. A later ruling or an erasure is told by an entry behind it.
    """
    kept = fresh.logged.get(record)
    if kept and log.span(db, record) == (kept[0].position, kept[-1].position):
        return tuple(kept)
    return tuple(log.entries_of(db, record))


def opened_entry(logged: LoggedEntry, fresh: Fresh = NOTHING_FRESH) -> Opened | None:
    """Return a counted entry with its body read; None for any other."""
    if logged.ruling != "counted" or logged.body is None or logged.form != "opened":
        return None
    header = logged.header
    body = fresh.bodies.get(header.id)
    if body is not None:
        return Opened(header.id, header.log, header.seq, body)
    try:
        body = decode_body(logged.body)
    except UnreadableBody:
        # Receipt never counts such a body; an erased or damaged one is not read.
        return None
    return Opened(header.id, header.log, header.seq, body)
