"""What goes back to a tablet: the entries of its open records it does not hold."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from sqlite_utils import Database

from webapp.record import log
from webapp.record.framing import MOST_BYTES, MOST_ENTRIES, Opened
from webapp.record.log import LoggedEntry


@dataclass(frozen=True, slots=True)
class Pulled:
    """One record's share. `more`: the rest comes with the next request.

    `is_closed`: this tablet may not open the record without a person's grant.
    """

    record: str
    entries: tuple[LoggedEntry, ...]
    upto: int
    more: bool
    is_closed: bool = False

    def as_json(self) -> dict[str, Any]:
        """Return the share as it travels in the reply."""
        share: dict[str, Any] = {
            "record": self.record,
            "entries": [_entry(logged) for logged in self.entries],
            "upto": self.upto,
            "more": self.more,
        }
        return {**share, "closed": True} if self.is_closed else share


def pull(
    db: Database,
    opened: Iterable[Opened],
    may_open: Callable[[str], bool],
    from_start: bool = False,
    head: int = log.NO_END,
) -> list[Pulled]:
    """Return each open record's entries behind `since`, as many as one reply takes.

    `from_start`: give all, whatever the tablet says it holds; `head`: position of the
    head that the same reply tells. What is beyond waits: a tablet that holds more than
    the head it saw would not notice a server that goes back to that head. Does not
    write.
    """
    room, space = MOST_ENTRIES, MOST_BYTES
    shares: list[Pulled] = []
    for one in {one.record: one for one in opened}.values():
        since = 0 if from_start else one.since
        if not may_open(one.record):
            shares.append(Pulled(one.record, (), since, False, is_closed=True))
            continue
        # One more than there is room for tells whether any are left.
        found = log.news_of(db, one.record, since, room + 1, head)
        taken, space = _fitting(found[:room], space)
        room -= len(taken)
        upto = _upto(taken[-1], since) if taken else since
        more = len(taken) < len(found)
        shares.append(Pulled(one.record, tuple(taken), upto, more))
    return shares


def _upto(last: LoggedEntry, since: int) -> int:
    """Return how far a reader of these has come, the last one included."""
    # One ruled on again is given before the entry that tells it.
    return last.position if last.position > since else last.told_at - 1


def _fitting(found: list[LoggedEntry], space: int) -> tuple[list[LoggedEntry], int]:
    taken: list[LoggedEntry] = []
    for logged in found:
        size = len(logged.body or b"")
        if size > space:
            break
        taken.append(logged)
        space -= size
    return taken, space


def _entry(logged: LoggedEntry) -> dict[str, Any]:
    return {
        "header": logged.header.encode().decode(),
        "body": _text(logged),
        "position": logged.position,
        "counts": logged.ruling,
        "because": logged.because or None,
    }


def _text(logged: LoggedEntry) -> str | None:
    """Return the body as text; None when it is sealed, erased or no text."""
    if logged.body is None or logged.form != "opened":
        return None
    try:
        return logged.body.decode()
    except UnicodeDecodeError:
        return None
