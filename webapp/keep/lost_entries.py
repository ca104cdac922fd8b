"""What a database holds beyond a backup: told before it is set aside."""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from webapp.record.entry import DESK_LOG, Header
from webapp.record.erase import ERASURES


@dataclass(frozen=True, slots=True)
class DeskEntry:
    """An entry that no tablet wrote, so none sends again. `at`: UTC text, or "".

    `tablet`: id of one that had the record open since, so has read it; or "".
    """

    header: Header
    tablet: str
    who: str
    path: str
    author: str
    at: str


@dataclass(frozen=True, slots=True)
class Beyond:
    """Entries of a database that a backup lacks. `by_tablet`: name -> how many."""

    desk: tuple[DeskEntry, ...] = ()
    by_tablet: tuple[tuple[str, int], ...] = ()
    is_read: bool = True

    @property
    def erasures(self) -> int:
        """Return how many erasures a backup does not know of."""
        return sum(entry.path == ERASURES for entry in self.desk)


_MISSING = """
SELECT e.v, e.id, e.record, e.log, e.seq, e.key, coalesce(r.who, ''), b.bytes,
  coalesce(t.name, ''), coalesce((SELECT a.tablet FROM announced a
    WHERE a.record = e.record AND a.at > e.received_at ORDER BY a.at LIMIT 1), '')
FROM entry e
LEFT JOIN record r ON r.id = e.record
LEFT JOIN body b ON b.position = e.position AND b.form = 'opened'
LEFT JOIN tablet_log l ON l.log = e.log
LEFT JOIN tablet t ON t.id = l.tablet
WHERE NOT EXISTS (
  SELECT 1 FROM backup.entry o WHERE o.id = e.id AND o.digest = e.digest)
ORDER BY e.position
"""


def beyond(database: Path, backup: Path) -> Beyond:
    """Return what a database holds and a backup of it does not. Does not write.

    `is_read` is False when the database cannot be read.
    """
    if not database.exists():
        return Beyond()
    try:
        with closing(sqlite3.connect(f"{database.as_uri()}?mode=ro", uri=True)) as one:
            one.execute("ATTACH ? AS backup", (f"{backup.as_uri()}?immutable=1",))
            rows = one.execute(_MISSING).fetchall()
    except sqlite3.DatabaseError:
        return Beyond(is_read=False)
    desk = tuple(_desk_entry(row) for row in rows if row[3] == DESK_LOG)
    tablets = Counter(row[8] for row in rows if row[3] != DESK_LOG)
    return Beyond(desk, tuple(sorted(tablets.items())))


def _desk_entry(row: tuple[Any, ...]) -> DeskEntry:
    header, (who, raw, _, tablet) = Header(*row[:6]), row[6:]
    try:
        body = json.loads(raw or b"{}")
        author, at = body["author"]["name"], body["at"]["utc"]
        return DeskEntry(header, tablet, who, str(body["path"]), str(author), str(at))
    except (ValueError, KeyError, TypeError):
        return DeskEntry(header, tablet, who, "", "", "")
