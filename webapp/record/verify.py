"""Walk a whole database and name whatever no longer fits.

Reads only. The order is from the ground up: pages, tables, the log link by link, what
was decided of it, every other row, signed notes, and last what can be made again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from sqlite_utils import Database

from webapp.record import verify_log, verify_paper, verify_photos, verify_tables
from webapp.record.keyring import Keyring
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Break:
    """One thing that does not fit. `where`: table and row; `what`: in words."""

    where: str
    what: str


def breaks(db: Database, keyring: Keyring | None = None) -> Iterator[Break]:
    """Return what does not fit, the first break first; nothing when all is whole.

    `keyring`: None leaves out whether the server's keys are those of the database.
    Raises sqlite3.DatabaseError: when the file cannot be read any further.
    """
    ground = list(verify_tables.pages(db))
    if ground:
        # On broken pages every further word would be a guess.
        yield from (_told(one) for one in ground)
        return
    walks = (
        verify_tables.references(db),
        verify_tables.schema(db),
        verify_log.links(db),
        verify_log.receipts_kept(db),
        verify_log.later(db),
        verify_log.erased(db),
        verify_tables.rows(db),
        verify_paper.notes(db),
        verify_paper.added(db),
        verify_photos.photos(db, keyring),
        verify_photos.erased(db),
        verify_tables.server_keys(db, keyring) if keyring else iter(()),
        verify_tables.listed(db),
    )
    yield from (_told(one) for one in chain.from_iterable(walks))


def _told(found: tuple[str, str, str]) -> Break:
    table, row, key = found
    return Break(f"{table} {row}".strip(), say(key))
