"""Hold one request's entries against the log: new, known, reopened or declined.

Decides only; the caller writes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from webapp.record.arrival import Arrived, Unreadable
from webapp.record.entry import Header, digest, sha256_hex
from webapp.record.log import LoggedEntry
from webapp.record.not_kept import Declined
from webapp.record.rulings import Reopened
from webapp.say import say


class Answer(NamedTuple):
    """What became of one entry. `id`: None when its header could not be read."""

    id: str | None
    answer: Literal["kept", "had", "conflict", "refused"]
    counts: str | None = None
    because: str | None = None
    position: int | None = None

    def as_json(self) -> dict[str, Any]:
        """Return the answer as it travels in the reply."""
        return {
            "id": self.id,
            "answer": self.answer,
            "counts": self.counts,
            "because": self.because,
            "position": self.position,
        }


class Waiting(NamedTuple):
    """An answer that waits for what the log makes of an entry.

    `number`: its place among the new ones, or among the reopened ones.
    """

    id: str
    word: Literal["kept", "had"]
    number: int
    is_reopened: bool = False


class _Standing(NamedTuple):
    """What stands under an id or in a place: in the log, or about to.

    `what`: the entry itself; most are never compared with a second one.
    """

    what: LoggedEntry | Arrived
    there: LoggedEntry | Waiting

    def is_same(self, item: Arrived) -> bool:
        """Return whether an item brings the very bytes that stand here."""
        known = _digests(self.what)
        return not set(known).isdisjoint(item.digests())


@dataclass(slots=True)
class Batch:
    """The entries of one request, sorted by what is to be done with each.

    `own`: the sender's logs; `new`: to append; `reopened`: to rule on again;
    `declined`: to keep aside.
    """

    own: set[str]
    new: list[Arrived] = field(default_factory=list)
    reopened: list[Reopened] = field(default_factory=list)
    declined: list[Declined] = field(default_factory=list)
    _by_id: dict[str, _Standing] = field(default_factory=dict)
    _by_place: dict[tuple[str, int], _Standing] = field(default_factory=dict)

    def knows(self, standing: Iterable[LoggedEntry]) -> None:
        """Take in what the log holds under the ids and in the places of the batch."""
        for logged in standing:
            self._stands(logged.header, _Standing(logged, logged))

    def settle(self, item: Arrived | Unreadable) -> Answer | Waiting:
        """Return what becomes of one item, and sort it in."""
        if isinstance(item, Unreadable):
            return self._refuse(item)
        header = item.header
        if header.log not in self.own:
            return self._decline(item, "refused", "refused.log")
        same = self._under(header)
        if same is None:
            return self._waits(item, Waiting(header.id, "kept", len(self.new)))
        is_same = same.is_same(item)
        if isinstance(same.there, LoggedEntry) and _opens(same.there, item):
            # What stands there never opened: damaged on the way, or its key came late.
            self.reopened.append(Reopened(same.there, item))
            word: Literal["kept", "had"] = "had" if is_same else "kept"
            number = len(self.reopened) - 1
            return self._waits(item, Waiting(header.id, word, number, True))
        is_taken = (header.log, header.seq) in self._by_place
        if (
            isinstance(same.there, LoggedEntry)
            and is_taken
            and _moved(same.there, item)
        ):
            return _had(same.there)
        if isinstance(same.there, LoggedEntry) and _damaged(same.there, item):
            return _had(same.there)
        if not is_same:
            return self._decline(item, "conflict", "conflict.taken")
        if isinstance(same.there, LoggedEntry):
            return _had(same.there)
        return Waiting(header.id, "had", same.there.number, same.there.is_reopened)

    def _waits(self, item: Arrived, waiting: Waiting) -> Waiting:
        if not waiting.is_reopened:
            self.new.append(item)
        self._stands(item.header, _Standing(item, waiting))
        return waiting

    def _refuse(self, item: Unreadable) -> Answer:
        raw, because = item.item.header or b"", say(item.refused)
        seems = item.id or ""
        self.declined.append(
            Declined("refused", because, item.header, seems, raw, item.item.sealed)
        )
        return Answer(item.id, "refused", because=because)

    def _decline(
        self, item: Arrived, answer: Literal["conflict", "refused"], key: str
    ) -> Answer:
        header, because = item.header, say(key)
        raw = header.encode()
        self.declined.append(
            Declined(answer, because, header, header.id, raw, item.sealed)
        )
        return Answer(header.id, answer, because=because)

    def _stands(self, header: Header, standing: _Standing) -> None:
        self._by_id[header.id] = standing
        self._by_place[header.log, header.seq] = standing

    def _under(self, header: Header) -> _Standing | None:
        return self._by_id.get(header.id) or self._by_place.get(
            (header.log, header.seq)
        )


def _digests(logged: LoggedEntry | Arrived) -> tuple[str, ...]:
    """Return the digests under which an entry's bytes may come again."""
    if isinstance(logged, Arrived):
        return logged.digests()
    if not logged.told_at or logged.body is None:
        return (logged.digest,)
    # Its body may have been opened after receipt: then two byte strings are it.
    opened = digest(logged.header.encode(), sha256_hex(logged.body))
    return (logged.digest, opened)


def _damaged(there: LoggedEntry, item: Arrived) -> bool:
    """Return whether an item is a spoilt copy of what stands, or that was erased.

    A header names one entry: nobody seals two bodies under it.
    """
    return there.header == item.header and (item.opened is None or there.body is None)


def _opens(there: LoggedEntry, item: Arrived) -> bool:
    """Return whether an item is what a seal that never opened should have been."""
    return (
        there.form == "sealed"
        and there.body is not None
        and there.header == item.header
        and item.opened is not None
    )


def _moved(there: LoggedEntry, item: Arrived) -> bool:
    """Return whether an entry stands here already, in another place of its writer.

    A tablet whose place was taken gives the entry a new one: the same id, the same
    body. What it sent before may still be on the way.
    """
    return (
        there.header.id == item.header.id
        and there.header.record == item.header.record
        and there.body is not None
        and there.body == item.opened
    )


def _had(logged: LoggedEntry) -> Answer:
    because = logged.because or None
    return Answer(logged.header.id, "had", logged.ruling, because, logged.position)
