"""The log as a whole, for whoever keeps the server: head, witnesses, what is lost."""

from __future__ import annotations

from dataclasses import dataclass

from sqlite_utils import Database

from webapp.record import log, lost, not_kept, witness
from webapp.record.entry import DESK_LOG
from webapp.record.log import Head
from webapp.record.lost import Lost
from webapp.record.not_kept import NotKept


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Heads that one tablet saw and this log does not know.

    `tablet`: name; `first`, `last`: the lowest and the highest; `at`: when the last was
    told.
    """

    tablet: str
    count: int
    first: Head
    last: Head
    at: str


@dataclass(frozen=True, slots=True)
class WholeLog:
    """The log's state. `desk_lost`: nobody sends these again; `homeless`: not taken,
    and for no record that can be opened.
    """

    entries: int
    head: Head
    elsewhere: tuple[Elsewhere, ...]
    desk_lost: tuple[Lost, ...]
    tablet_lost: tuple[Lost, ...]
    homeless: tuple[NotKept, ...]


def whole_log(db: Database) -> WholeLog:
    """Return the state of the log. Does not write."""
    (entries,) = db.conn.execute("SELECT count(*) FROM entry").fetchone()
    missing = lost.missing(db)
    known = set(log.record_ids(db))
    return WholeLog(
        entries,
        log.head(db),
        _elsewhere(db),
        tuple(one for one in missing if one.log == DESK_LOG),
        tuple(one for one in missing if one.log != DESK_LOG),
        tuple(one for one in not_kept.shown(db) if one.record not in known),
    )


def entries_since(db: Database, position: int) -> int:
    """Return how many entries stand behind a position."""
    row = db.conn.execute(
        "SELECT count(*) FROM entry WHERE position > ?", (position,)
    ).fetchone()
    return int(row[0])


def _elsewhere(db: Database) -> tuple[Elsewhere, ...]:
    names = dict(db.conn.execute("SELECT id, name FROM tablet").fetchall())
    by_tablet: dict[str, list[tuple[Head, str]]] = {}
    for tablet, head, at in witness.unknown_heads(db):
        by_tablet.setdefault(tablet, []).append((head, at))
    found: list[Elsewhere] = []
    for tablet, told in by_tablet.items():
        heads = sorted((head for head, _ in told), key=lambda head: head.position)
        at = max(at for _, at in told)
        name = str(names.get(tablet, tablet))
        found.append(Elsewhere(name, len(heads), heads[0], heads[-1], at))
    return tuple(sorted(found, key=lambda one: one.tablet))
