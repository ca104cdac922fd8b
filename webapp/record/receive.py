"""Take in what a tablet sends: keep every entry, and rule once whether it counts.

Opening and reading happen before the write lock; all that is kept is kept in one
transaction, or nothing is.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import (
    log,
    lost,
    not_kept,
    pinned_limits,
    records,
    rulings,
    tablet_logs,
    witness,
    wraps,
)
from webapp.record.arrival import Arrived, read_items
from webapp.record.batch import Answer, Batch, Waiting
from webapp.record.entry import DESK_LOG
from webapp.record.framing import Opened, Push
from webapp.record.keyring import Keyring
from webapp.record.log import Head, LoggedEntry, NewEntry, Ruling
from webapp.record.named import named_entries
from webapp.record.open_record import Fresh
from webapp.record.ruling import Named, reason_against_names
from webapp.record.wraps import Keys


@dataclass(frozen=True, slots=True)
class Sender:
    """The tablet a request came from."""

    tablet: str
    is_revoked: bool


@dataclass(frozen=True, slots=True)
class Receipt:
    """What became of a request.

    `held`: log -> highest seq up to which none is missing; `head_known`: whether the
    head the tablet saw is one of this log, None when it saw none; `touched`: records
    with new entries, or with entries ruled on again; `lost`: how many entries of the
    records asked for are known of and not here; `fresh`: what was read of those kept.
    """

    answers: tuple[Answer, ...]
    held: dict[str, int]
    head: Head
    head_known: bool | None
    touched: tuple[str, ...]
    lost: int
    fresh: Fresh

    @property
    def went_back(self) -> bool:
        """Return whether this log is not, or no longer, the one the tablet saw."""
        return self.head_known is False


class _Place(NamedTuple):
    """Where an entry ruled on again stands, and whether it counts now."""

    position: int
    ruling: Ruling
    because: str


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
        batch = Batch(own)
        batch.knows(log.standing(db, [one.header for one in arrived]))
        told = [batch.settle(item) for item in items]
        new = _ruled(db, sender, batch.new)
        kept = log.append(db, new, now)
        again = [_rule_again(db, sender, one) for one in batch.reopened]
        mine = [wrap for wrap in push.wraps if wrap.log in own]
        wraps.keep(db, sender.tablet, mine, keys)
        _note(db, sender, push, own, now)
        held = {name: tablet_logs.held(db, name) for name in sorted(own)}
        head = log.head(db)
        not_kept.keep(db, sender.tablet, batch.declined, head.position, now)
        witness.bear(db, sender.tablet, head, now)
        missing = lost.count(db, (one.record for one in push.open))
        touched = _touched(batch)
        records.mark(db, touched, now)
        began = {one.record: one.limits for one in push.open}
        pinned_limits.pin(db, touched, now, began)
    answers = tuple(_answer(one, kept, again) for one in told)
    fresh = _fresh(batch.new, kept)
    return Receipt(answers, held, head, known, touched, missing, fresh)


def _logs(push: Push, arrived: Iterable[Arrived]) -> set[str]:
    named = {tip.log for tip in push.logs} | {one.header.log for one in arrived}
    return named - {DESK_LOG}


def _touched(batch: Batch) -> tuple[str, ...]:
    changed = [*batch.new, *(one.arrived for one in batch.reopened)]
    return tuple(dict.fromkeys(one.header.record for one in changed))


def _fresh(new: Iterable[Arrived], kept: Iterable[LoggedEntry]) -> Fresh:
    logged: dict[str, list[LoggedEntry]] = defaultdict(list)
    for one in kept:
        logged[one.header.record].append(one)
    return Fresh(
        logged,
        {one.header.id: one.body for one in new if one.body is not None},
        frozenset(one.header.id for one in new if one.is_sound),
    )


def _ruled(db: Database, sender: Sender, new: list[Arrived]) -> list[NewEntry]:
    known = named_entries(db, new)
    return [one.as_new(_reason(sender, one, known)) for one in new]


def _reason(sender: Sender, one: Arrived, known: dict[str, Named]) -> str:
    if sender.is_revoked:
        return "because.revoked"
    if one.against or one.body is None:
        return one.against
    return reason_against_names(one.body, one.header.id, one.header.record, known)


def _rule_again(db: Database, sender: Sender, one: rulings.Reopened) -> _Place:
    reason = _reason(sender, one.arrived, named_entries(db, [one.arrived]))
    ruling, because = rulings.rule_again(db, one, reason)
    return _Place(one.logged.position, ruling, because)


def _answer(
    told: Answer | Waiting, kept: list[LoggedEntry], again: list[_Place]
) -> Answer:
    if isinstance(told, Answer):
        return told
    place = again[told.number] if told.is_reopened else kept[told.number]
    because = place.because or None
    return Answer(told.id, told.word, place.ruling, because, place.position)


def _note(db: Database, sender: Sender, push: Push, own: set[str], at: str) -> None:
    """Note what the tablet says of itself; what it says of other logs is left out."""
    tips = [tip for tip in push.logs if tip.log in own]
    opened = [
        Opened(one.record, one.since, tuple(t for t in one.tips if t.log in own))
        for one in push.open
    ]
    tablet_logs.announce(db, sender.tablet, tips, opened, at)
    tablet_logs.saw(db, sender.tablet, at)
    held = (header for one in push.open for header in one.holds)
    lost.note(db, sender.tablet, held, at)
    if push.head is not None:
        witness.bear(db, sender.tablet, push.head, at)
