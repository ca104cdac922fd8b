"""What a simulated tablet has kept for good, as one value replaced at each commit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from webapp.record.fold import Opened
from webapp.record.seal import Wrap
from webapp.record.writer import SealedEntry


class TabletDied(BaseException):
    """The battery is flat: what was not committed is gone."""


@dataclass(frozen=True, slots=True)
class Row:
    """An own entry. `moved`: it was given a place in a later log."""

    entry: SealedEntry
    body: dict[str, Any]
    moved: bool = False

    def opened(self) -> Opened:
        """Return the entry as the fold takes it."""
        header = self.entry.header
        return Opened(header.id, header.log, header.seq, self.body)


@dataclass(frozen=True, slots=True)
class Key:
    """The sealing key of one record in one log."""

    id: str
    raw: bytes
    wrap: Wrap


@dataclass(frozen=True, slots=True)
class Pulled:
    """An entry of others. `opened`: None when it does not count or has no text."""

    header: str
    opened: Opened | None
    counts: str


@dataclass(frozen=True, slots=True)
class Ruling:
    """What the server said of an own entry, where it says more than kept.

    `is_answer`: it was said of the very bytes sent; what a pull tells is not.
    """

    answer: str
    counts: str | None
    is_erased: bool = False
    is_answer: bool = True

    @property
    def is_noteworthy(self) -> bool:
        """Return whether it says more than kept and counted."""
        declined = self.answer in ("refused", "conflict")
        return declined or self.counts == "set_aside" or self.is_erased


@dataclass(frozen=True, slots=True)
class Disk:
    """The tablet's database. Never changed: a commit puts another in its place.

    `held`: up to where the server says it holds a log; `sure`: up to where it answered
    for each of these very rows, which a number alone does not tell.

    `log`: the log of now; `tips`: the last seq of every own log; `rows` by place;
    `pulled`: entries of others by record and id; `tells`: the server went back, and is
    told next what is held of others; `lost`: how much it said last that it lost.
    """

    log: str
    tips: dict[str, int] = field(default_factory=dict)
    rows: dict[tuple[str, int], Row] = field(default_factory=dict)
    keys: dict[tuple[str, str], Key] = field(default_factory=dict)
    rulings: dict[str, Ruling] = field(default_factory=dict)
    pulled: dict[str, dict[str, Pulled]] = field(default_factory=dict)
    since: dict[str, int] = field(default_factory=dict)
    held: dict[str, int] = field(default_factory=dict)
    sure: dict[str, int] = field(default_factory=dict)
    asked: frozenset[str] = frozenset()
    head: dict[str, Any] | None = None
    skew_ms: int | None = None
    tells: bool = False
    lost: int = 0

    @property
    def records(self) -> list[str]:
        """Return the records that this tablet has open."""
        return sorted({record for _, record in self.keys} | self.asked)

    def unsent(self) -> list[Row]:
        """Return the rows beyond what the server is known to hold of each log."""
        places = sorted(self.rows)
        return [self.rows[p] for p in places if p[1] > self._known(p[0])]

    def sure_after(self, answered: set[str]) -> dict[str, int]:
        """Return how far each log is sure once these ids were answered."""
        sure, stopped = dict(self.sure), set[str]()
        for log, seq in sorted(self.rows):
            entry = self.rows[log, seq].entry.header.id
            is_next = seq > sure.get(log, 0) and log not in stopped
            if is_next and (entry in answered or self._is_answered(entry)):
                sure[log] = seq
            elif is_next:
                stopped.add(log)
        return sure

    def _is_answered(self, entry: str) -> bool:
        return entry in self.rulings and self.rulings[entry].is_answer

    def _known(self, log: str) -> int:
        return min(self.held.get(log, 0), self.sure.get(log, 0))

    def to_offer(self) -> list[Row]:
        """Return the unsent rows on which no word that stands was said yet."""
        return [row for row in self.unsent() if self._may_pass(row)]

    def _may_pass(self, row: Row) -> bool:
        ruling = self.rulings.get(row.entry.header.id)
        if ruling is None or not ruling.is_answer or ruling.answer == "refused":
            return True
        return ruling.answer == "conflict" and row.moved

    def place_after(self) -> tuple[str, int]:
        """Return the next place to write at."""
        return self.log, self.tips.get(self.log, 0) + 1

    def with_row(self, row: Row, key: Key) -> Disk:
        """Return the disk with one more own entry, and the key it is sealed under."""
        header = row.entry.header
        return replace(
            self,
            rows={**self.rows, (header.log, header.seq): row},
            tips={**self.tips, header.log: header.seq},
            keys={**self.keys, (header.log, header.record): key},
        )

    def entries_of(self, record: str) -> list[Opened]:
        """Return what counts here of a record, own entries first."""
        aside = {
            i for i, ruling in self.rulings.items() if ruling.counts == "set_aside"
        }
        own = [
            row.opened()
            for row in self.rows.values()
            if row.entry.header.record == record and row.entry.header.id not in aside
        ]
        pulled = self.pulled.get(record, {}).values()
        return own + [one.opened for one in pulled if one.opened is not None]


@dataclass
class Battery:
    """Ends the tablet at a commit: `left` commits are made, the next is not.

    `after`: the next one is made too, and nothing behind it. None: it lasts.
    """

    left: int | None = None
    after: bool = False

    def commits(self, write: Callable[[], None]) -> None:
        """Make one commit. Raises TabletDied."""
        if self.left == 0 and not self.after:
            self._dies()
        write()
        if self.left == 0:
            self._dies()
        if self.left is not None:
            self.left -= 1

    def _dies(self) -> None:
        self.left = None
        raise TabletDied
