"""The values a generator's dial can stand at."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any

from webapp.clinical.exact import decimal, number
from webapp.clinical.shown import shown

# Outputs run from 0.1 to 25 mA over the generators found (domain 4f).
DEFAULT = (("0.1", "25", "0.1"),)
# Limits of ours, so that a mistyped table costs no memory.
MOST_POSITIONS = 3000
MOST_SEGMENTS = 12
_MOST_KEPT = 64


@dataclass(frozen=True, slots=True)
class Dial:
    """`positions`: ascending, above zero; `steps`: (from, to, step) of each segment.

    `known` is false for the default, which stands in for a table nobody entered.
    """

    positions: tuple[Fraction, ...]
    steps: tuple[tuple[Fraction, Fraction, Fraction], ...]
    known: bool

    @property
    def lowest(self) -> Fraction:
        """Return the lowest output the dial has."""
        return self.positions[0]

    @property
    def highest(self) -> Fraction:
        """Return the highest output the dial has."""
        return self.positions[-1]

    def at_or_above(self, value: Fraction) -> Fraction | None:
        """Return the smallest position not below `value`, or None."""
        at = bisect_left(self.positions, value)
        return self.positions[at] if at < len(self.positions) else None

    def at_or_below(self, value: Fraction) -> Fraction | None:
        """Return the largest position not above `value`, or None."""
        at = bisect_right(self.positions, value)
        return self.positions[at - 1] if at else None

    def above(self, value: Fraction) -> Fraction | None:
        """Return the next position above `value`, or None at the top."""
        at = bisect_right(self.positions, value)
        return self.positions[at] if at < len(self.positions) else None

    def below(self, value: Fraction) -> Fraction | None:
        """Return the next position below `value`, or None at the bottom."""
        at = bisect_left(self.positions, value)
        return self.positions[at - 1] if at else None

    def step_at(self, value: Fraction) -> str:
        """Return the step the dial counts in at `value`, as text for `shown`."""
        for _, high, step in self.steps:
            if value <= high:
                return decimal(step)
        return decimal(self.steps[-1][2])


def shown_on(dial: Dial, value: str) -> str:
    """Return an output as it is shown beside this dial: "1.0", "20"."""
    exact = number(value)
    return value if exact is None else shown(value, dial.step_at(exact))


def dial_of(segments: object) -> Dial:
    """Return the dial of a step table, or the default where none is known.

    `segments`: [{"from", "to", "step"}, ...], ascending, decimals as text. A table
    that cannot be (see `dial_problem`) counts as not known.
    """
    table = _table(segments)
    if table is None:
        return _made(DEFAULT, False)
    return _made(table, True)


def dial_problem(segments: object) -> str | None:
    """Return why a step table cannot be used, as a code, or None.

    "dial.shape": not a list of from, to and step, all decimals above or at zero;
    "dial.order": a segment ends before it begins or starts before the one below it
    ends, or nothing lies above zero;
    "dial.size": more positions than any dial has.
    """
    if not isinstance(segments, Sequence) or isinstance(segments, str):
        return "dial.shape"
    if not 1 <= len(segments) <= MOST_SEGMENTS:
        return "dial.shape"
    before = Fraction(0)
    count = 0
    for segment in segments:
        numbers = _numbers(segment)
        if numbers is None:
            return "dial.shape"
        low, high, step = numbers
        if low < before or high < low or high == 0:
            return "dial.order"
        before = high
        count += (high - low) // step + (1 if low > 0 else 0)
    if count == 0:
        return "dial.order"
    return "dial.size" if count > MOST_POSITIONS else None


def _numbers(segment: Any) -> tuple[Fraction, Fraction, Fraction] | None:
    if not isinstance(segment, dict):
        return None
    low, high = number(segment.get("from")), number(segment.get("to"))
    step = number(segment.get("step"))
    if low is None or high is None or step is None or low < 0 or step <= 0:
        return None
    return low, high, step


def _table(segments: object) -> tuple[tuple[str, str, str], ...] | None:
    if dial_problem(segments) is not None:
        return None
    assert isinstance(segments, Sequence)  # noqa: S101  narrows the type only
    return tuple((s["from"], s["to"], s["step"]) for s in segments)


@lru_cache(maxsize=_MOST_KEPT)
def _made(table: tuple[tuple[str, str, str], ...], known: bool) -> Dial:
    steps = tuple((Fraction(a), Fraction(b), Fraction(c)) for a, b, c in table)
    found = {
        low + n * step
        for low, high, step in steps
        for n in range((high - low) // step + 1)
    }
    # At zero nothing is delivered: no test and no policy ever asks for it.
    return Dial(tuple(sorted(v for v in found if v > 0)), steps, known)
