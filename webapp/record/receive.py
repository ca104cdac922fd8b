"""Take in what a tablet sends: keep every entry, and rule once whether it counts.

Opening and reading happen before the write lock; all that is kept is kept in one
transaction, or nothing is.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import log, tablet_logs, witness, wraps
from webapp.record.arrival import Arrived, Unreadable, read_items
from webapp.record.entry import DESK_LOG, Header
from webapp.record.framing import Opened, Push
from webapp.record.keyring import Keyring
from webapp.record.log import Head, LoggedEntry, NewEntry
from webapp.record.named import named_entries
from webapp.record.ruling import Named, reason_against_names
from webapp.record.wraps import Keys
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Sender:
    """The tablet a request came from."""

    tablet: str
    is_revoked: bool


@dataclass(frozen=True, slots=True)
class Answer:
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


@dataclass(frozen=True, slots=True)
class Receipt:
    """What became of a request.

    `held`: log -> highest seq up to which none is missing; `head_known`: whether the
    head the tablet saw is one of this log, None when it saw none; `touched`: records
    with new entries.
    """

    answers: tuple[Answer, ...]
    held: dict[str, int]
    head: Head
    head_known: bool | None
    touched: tuple[str, ...]

    @property
    def went_back(self) -> bool:
        """Return whether this log is not, or no longer, the one the tablet saw."""
        return self.head_known is False


@dataclass(frozen=True, slots=True)
class _Standing:
    """An entry that is in the log, or is about to be (then `new` says which)."""

    digests: tuple[str, ...]
    logged: LoggedEntry | None
    new: int


@dataclass(slots=True)
class _Batch:
    """The entries of one request, sorted into those to keep and those answered."""

    new: list[Arrived] = field(default_factory=list)
    _by_id: dict[str, _Standing] = field(default_factory=dict)
    _by_place: dict[tuple[str, int], _Standing] = field(default_factory=dict)

    def stands(self, header: Header, standing: _Standing) -> None:
        self._by_id[header.id] = standing
        self._by_place[header.log, header.seq] = standing

    def under(self, header: Header) -> list[_Standing]:
        found = (
            self._by_id.get(header.id),
            self._by_place.get((header.log, header.seq)),
        )
        return [standing for standing in found if standing is not None]


# An answer that is known, or the number of the new entry it waits for.
_Waiting = tuple[Literal["kept", "had"], int]


def receive(
    db: Database, keyring: Keyring, sender: Sender, push: Push, at: str | None = None
) -> Receipt:
    """Keep a request's entries, and say of each what became of it.

    A second receipt of the same request changes nothing. Commits before it returns.
    """
    now = at or log.utc_now()
    keys = Keys(keyring, push.wraps)
    items = read_items(db, push.items, keys)
    arrived = [item for item in items if isinstance(item, Arrived)]
    with writing(db):
        # Asked before anything is added: re-sent entries may rebuild the same head.
        known = None if push.head is None else witness.is_known(db, push.head)
        own = tablet_logs.claim(db, sender.tablet, _logs(push, arrived), now)
        batch = _standing_batch(db, arrived)
        told = [_settled(batch, item, own) for item in items]
        new = _ruled(db, sender, batch.new)
        positions = log.append(db, new, now)
        mine = [wrap for wrap in push.wraps if wrap.log in own]
        wraps.keep(db, sender.tablet, mine, keys)
        _note(db, sender, push, own, now)
        held = {name: log.held(db, name) for name in sorted(own)}
        head = log.head(db)
        witness.bear(db, sender.tablet, head, now)
    answers = tuple(_answer(one, new, positions) for one in told)
    touched = tuple(dict.fromkeys(entry.header.record for entry in new))
    return Receipt(answers, held, head, known, touched)


def _logs(push: Push, arrived: Iterable[Arrived]) -> set[str]:
    named = {tip.log for tip in push.logs} | {one.header.log for one in arrived}
    return named - {DESK_LOG}


def _standing_batch(db: Database, arrived: list[Arrived]) -> _Batch:
    batch = _Batch()
    for logged in log.standing(db, [one.header for one in arrived]):
        batch.stands(logged.header, _Standing((logged.digest,), logged, -1))
    return batch


def _settled(
    batch: _Batch, item: Arrived | Unreadable, own: set[str]
) -> Answer | _Waiting:
    if isinstance(item, Unreadable):
        return Answer(item.id, "refused", because=say(item.refused))
    header = item.header
    if header.log not in own:
        return Answer(header.id, "refused", because=say("refused.log"))
    there = batch.under(header)
    if not there:
        batch.stands(header, _Standing(item.digests(), None, len(batch.new)))
        batch.new.append(item)
        return "kept", len(batch.new) - 1
    same = there[0]
    if not set(same.digests) & set(item.digests()):
        return Answer(header.id, "conflict", because=say("conflict.taken"))
    return _had(same.logged) if same.logged is not None else ("had", same.new)


def _had(logged: LoggedEntry) -> Answer:
    because = logged.because or None
    return Answer(logged.header.id, "had", logged.ruling, because, logged.position)


def _ruled(db: Database, sender: Sender, new: list[Arrived]) -> list[NewEntry]:
    known = named_entries(db, new)
    return [one.as_new(_reason(sender, one, known)) for one in new]


def _reason(sender: Sender, one: Arrived, known: dict[str, Named]) -> str:
    if sender.is_revoked:
        return "because.revoked"
    if one.against or one.body is None:
        return one.against
    return reason_against_names(one.body, one.header.id, one.header.record, known)


def _answer(
    told: Answer | _Waiting, new: list[NewEntry], positions: list[int]
) -> Answer:
    if isinstance(told, Answer):
        return told
    word, number = told
    kept = new[number]
    because, position = kept.because or None, positions[number]
    return Answer(kept.header.id, word, kept.ruling, because, position)


def _note(db: Database, sender: Sender, push: Push, own: set[str], at: str) -> None:
    """Note what the tablet says of itself; what it says of other logs is left out."""
    tips = [tip for tip in push.logs if tip.log in own]
    opened = [
        Opened(one.record, one.since, tuple(t for t in one.tips if t.log in own))
        for one in push.open
    ]
    tablet_logs.announce(db, sender.tablet, tips, opened, at)
    tablet_logs.saw(db, sender.tablet, at)
    if push.head is not None:
        witness.bear(db, sender.tablet, push.head, at)
