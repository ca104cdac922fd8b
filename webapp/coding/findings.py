"""What a rule can say of a record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from webapp.coding.rules import CODERS_OWN, Rule
from webapp.say import say

State = Literal["candidate", "missing", "not_offered"]
BEST_FIRST: tuple[State, ...] = ("candidate", "missing", "not_offered")


@dataclass(frozen=True, slots=True)
class Missing:
    """One thing a candidate lacks: where it is answered, and its name.

    `is_providers`: it is there, but no operator or supervisor said it; `ask`: the
    question that would answer it, "" for the rule's first, "coder" for none.
    """

    paths: tuple[str, ...]
    words: str
    is_providers: bool = False
    ask: str = ""

    @property
    def is_coders(self) -> bool:
        """Return whether no clinician is asked: the coder decides."""
        return self.ask == CODERS_OWN


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule says of one record in one view.

    `subject`: entry id of the wire or row it is about, "" for the record;
    `evidence`: entry ids it rests on; `place`: path of the field it hangs beside;
    `edition`, `title`: of the table used; `confirmed`: whether that edition is
    the one of the date; `settled`: whether that date is known; `is_switched_off`:
    the code itself is not shown here; `units`: how many, "" where that is open;
    `wanted`: name of the edition of the date, where it is not in hand.
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
    settled: bool
    is_switched_off: bool
    units: str = ""
    wanted: str = ""

    @property
    def questions(self) -> tuple[str, ...]:
        """Return the questions that would answer what is missing, each once."""
        asked = [(m.ask,) if m.ask else self.rule.asks[:1] for m in self.missing]
        named = dict.fromkeys(q for some in asked for q in some)
        return tuple(name for name in named if name != CODERS_OWN)

    @property
    def code(self) -> str:
        """Return the code to show, "" where there is none or it is switched off."""
        return "" if self.is_switched_off else self.rule.code

    @property
    def edition_words(self) -> str:
        """Return the edition's name, marked when it is not confirmed for the date."""
        if self.confirmed:
            return self.edition
        return unconfirmed_words(self.edition, self.wanted, self.settled)


def unconfirmed_words(edition: str, wanted: str, settled: bool) -> str:
    """Return the name of an edition that is not known to be the one of the date."""
    if not settled:
        return say("coding.edition_not_settled", edition=edition)
    named = wanted or say("coding.edition_of_the_date")
    return say("coding.edition_not_loaded", edition=edition, wanted=named)
