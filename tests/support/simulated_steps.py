"""A schedule: what happens, in order, all of it drawn from one seed beforehand.

A step means something in any state (a number counts modulo what is there), so that any
part of a schedule is a schedule too.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from tests.support.simulated_network import FAULTS, Fault

TABLETS = 3
RECORDS = 3
# About as many statements as one exchange runs, so that a death meets each of them.
STATEMENTS = 44
LONGEST_JUMP_MS = 400 * 24 * 3600 * 1000
WRITINGS = ("name", "weight", "event", "strike", "unstrike", "wire", "site", "illegal")
# How often each step comes, among the sum of all.
WEIGHTS = {
    "write": 36,
    "sync": 32,
    "asks_for": 5,
    "signs_in": 4,
    "delivers_late": 4,
    "desk": 6,
    "erases": 2,
    "copies": 4,
    "restores": 3,
    "server_dies": 2,
    "tablet_copies": 3,
    "tablet_restores": 2,
    "tablet_dies": 3,
    "clock": 3,
}


@dataclass(frozen=True, slots=True)
class Step:
    """One step. `tablet`: whom it befalls; `n`: which record, copy or request;
    `what`: what is written; `fault`: what the exchange meets after `skip` good ones;
    `commits`, `after`: when the tablet dies of it (None: it does not); `ms`: how much
    time passes first; `jump_ms`: how far a clock is set wrong.
    """

    kind: str
    tablet: int = 0
    n: int = 0
    what: str = ""
    fault: Fault | None = None
    skip: int = 0
    commits: int | None = None
    after: bool = False
    ms: int = 0
    jump_ms: int = 0


def draw(seed: int) -> list[Step]:
    """Return the schedule of a seed."""
    chance = Random(seed)
    kinds = chance.choices(
        list(WEIGHTS), list(WEIGHTS.values()), k=chance.randint(20, 44)
    )
    return [_step(kind, chance) for kind in kinds]


def told(seed: int, steps: list[Step]) -> str:
    """Return how to run a schedule again, and the steps that are enough to fail."""
    lines = "\n".join(f"    {step!r}," for step in steps)
    return (
        f"python -m pytest tests/fault/test_simulated.py --seed {seed}\n"
        f"  shrunk to {len(steps)} steps:\n{lines}"
    )


def shrunk(
    steps: list[Step], still_fails: Callable[[list[Step]], bool], tries: int = 120
) -> list[Step]:
    """Leave out steps as long as what is left still fails, in `tries` runs at most."""
    size = len(steps) // 2
    while size and tries > 0:
        at = 0
        while at < len(steps) and tries > 0:
            fewer = steps[:at] + steps[at + size :]
            tries -= 1
            if still_fails(fewer):
                steps = fewer
            else:
                at += size
        size //= 2
    return steps


def _step(kind: str, chance: Random) -> Step:
    dies = chance.random() < (0.08 if kind in ("write", "sync") else 0)
    is_far = chance.random() < 0.2
    jump = chance.randint(-LONGEST_JUMP_MS, LONGEST_JUMP_MS)
    return Step(
        kind,
        tablet=chance.randrange(TABLETS),
        n=chance.randrange(60),
        what=chance.choice(WRITINGS) if kind == "write" else "",
        fault=_fault(chance) if kind == "sync" and chance.random() < 0.6 else None,
        skip=chance.choice((0, 0, 1)),
        commits=chance.randrange(4) if dies else None,
        after=chance.random() < 0.5,
        ms=chance.choice((0, 1, 250, 60_000)),
        jump_ms=(jump if is_far else jump // 100_000) if kind == "clock" else 0,
    )


def _fault(chance: Random) -> Fault:
    kind = chance.choice((*FAULTS, "server_dies", "server_dies"))
    most = 100 if kind in ("cut_request", "cut_answer", "garbled") else STATEMENTS
    return Fault(
        kind,
        at=chance.randrange(most),
        after=chance.random() < 0.5,
        rows=chance.randrange(4),
        other=chance.randrange(TABLETS),
    )
