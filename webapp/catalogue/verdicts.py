"""What a kind says about a value: how it counts, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from webapp.catalogue.model import Field
from webapp.say import say

State = Literal["ok", "soft", "impossible", "absent", "illegal"]
_WEIGHT: dict[State, int] = {
    "absent": 0,
    "ok": 1,
    "soft": 2,
    "impossible": 3,
    "illegal": 4,
}


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to say about one field. `code` is stable, `message` is for people.

    `field`: the field's name, or "group.child" for a child of a row.
    """

    field: str
    code: str
    message: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """How a value counts.

    `state`: "ok" used; "soft" used, with a remark; "impossible" kept as typed,
    marked, an open question, never computed with; "absent" a stated absence;
    "illegal" not of this kind at all (set aside at receipt). `problems` may hold
    a note (code "off_step", "because_missing") while the state stays ok or absent.
    """

    state: State
    problems: tuple[Problem, ...] = ()

    @property
    def codes(self) -> tuple[str, ...]:
        """Return the codes of the problems, in the order found."""
        return tuple(p.code for p in self.problems)


OK = Verdict("ok")


def found(state: State, field: Field, code: str, **values: object) -> Verdict:
    """Return a verdict with one problem, told in the words of `problem.<code>`."""
    message = say(f"problem.{code}", label=field.label, **values)
    return Verdict(state, (Problem(field.name, code, message),))


def illegal(field: Field) -> Verdict:
    """Return the verdict for a value that is not of the field's kind."""
    return found("illegal", field, "not_of_kind")


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the heaviest state among `verdicts`, with all their problems."""
    state: State = "ok"
    problems: list[Problem] = []
    for verdict in verdicts:
        if verdict is OK:
            continue
        problems.extend(verdict.problems)
        if _WEIGHT[verdict.state] > _WEIGHT[state]:
            state = verdict.state
    return Verdict(state, tuple(problems)) if problems or state != "ok" else OK
