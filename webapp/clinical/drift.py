"""A threshold that rises, of one wire in one position, in three steps; else silent.

Source: fixtures/sources.md#clinical-23 (drift), #clinical-27 (V13).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Literal

from webapp.clinical.exact import number
from webapp.clinical.shown import times

Step = Literal["", "below_floor", "projected", "risen"]
# clinical 23: a slope needs three values.
_LEAST = 3
_PAIR = 2  # clinical 23: pairwise, and the middle pair of an even count


@dataclass(frozen=True, slots=True)
class Measured:
    """One threshold, mA, exact decimal, and when it was found."""

    ms: int
    value: str


@dataclass(frozen=True, slots=True)
class Drift:
    """`step`: the first of the three that holds; `shown`: the margin projected."""

    step: Step
    shown: str = ""


def drift(
    values: Sequence[Measured],
    output: str | None,
    is_below_floor: bool,
    due_ms: int | None,
    limits: Mapping[str, str],
) -> Drift:
    """Return what a run of thresholds says, one thing only.

    `values`: of the same wire and position, in time; 0 is none. `output`: left at, mA;
    `due_ms`: when the next test is due. First a margin below the floor now, then one
    projected below it by then (median of pairwise slopes), then a rise over the first.
    """
    if is_below_floor:
        return Drift("below_floor")
    exact = [(one.ms, number(one.value)) for one in values]
    told = [(ms, value) for ms, value in exact if value is not None and value > 0]
    then = _projected(told, due_ms)
    left, floor = number(output), number(limits.get("threshold_margin_floor"))
    held = None if then is None or left is None else left / then
    if held is not None and floor is not None and held < floor:
        return Drift("projected", times(held))
    return Drift("risen") if _has_risen(told, limits) else Drift("")


def median_slope(told: Sequence[tuple[int, Fraction]]) -> Fraction | None:
    """Return the median of the slopes of all pairs, per millisecond; two of one time
    make none. Fewer than three values: None.
    """
    if len(told) < _LEAST:
        return None
    slopes = sorted(
        (b - a) / (later - early)
        for (early, a), (later, b) in combinations(told, _PAIR)
        if later != early
    )
    if not slopes:
        return None
    middle = slopes[(len(slopes) - 1) // _PAIR : len(slopes) // _PAIR + 1]
    return sum(middle, Fraction(0)) / len(middle)


def _projected(
    told: Sequence[tuple[int, Fraction]], due_ms: int | None
) -> Fraction | None:
    slope = median_slope(told)
    if slope is None or slope <= 0 or due_ms is None or due_ms <= told[-1][0]:
        return None
    return told[-1][1] + slope * (due_ms - told[-1][0])


def _has_risen(told: Sequence[tuple[int, Fraction]], limits: Mapping[str, str]) -> bool:
    factor, least = (
        number(limits.get("drift_factor")),
        number(limits.get("drift_minimum_ma")),
    )
    if not told or factor is None or least is None:
        return False
    first, last = told[0][1], told[-1][1]
    return last >= max(factor * first, first + least)
