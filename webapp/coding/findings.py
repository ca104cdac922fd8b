"""What a rule can say of a record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from webapp.coding.rules import Rule

State = Literal["candidate", "missing", "not_offered"]
BEST_FIRST: tuple[State, ...] = ("candidate", "missing", "not_offered")


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing a candidate lacks: where it is answered, and its name."""

    paths: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule says of one record in one view.

    `subject`: entry id of the wire or row it is about, "" for the record;
    `evidence`: entry ids it rests on; `place`: path of the field it hangs beside;
    `edition`, `title`: of the table used; `confirmed`: whether that edition is
    the one of the date.
    """

    rule: Rule
    view: str
    subject: str
    state: State
    because: str
    missing: tuple[Missing, ...]
    evidence: tuple[str, ...]
    place: str
    edition: str
    title: str
    confirmed: bool

    @property
    def questions(self) -> tuple[str, ...]:
        """Return the questions offered: only where something is missing."""
        return self.rule.asks if self.state == "missing" else ()
