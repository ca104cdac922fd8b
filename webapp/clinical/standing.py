"""Which of a wire's tests still stand, and which one counts.

Source: fixtures/sources.md#clinical-7 (the higher counts), #clinical-14 (re-test).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from webapp.clinical.dependence import TestKind, offered_tests
from webapp.clinical.dial import Dial
from webapp.clinical.next_output import NextOutput, next_output
from webapp.clinical.pulse_widths import are_like
from webapp.clinical.retest import Change, is_old, since
from webapp.clinical.threshold import ThresholdTest, threshold_test
from webapp.clinical.told_tests import ToldTest


@dataclass(frozen=True, slots=True)
class Tested:
    """One test as told, what it gives, and the output to offer next in it.

    `stands`: nothing since has made it one that stood.
    """

    told: ToldTest
    result: ThresholdTest
    next: NextOutput
    offered: tuple[TestKind, ...]
    stands: bool


def tested(
    told: ToldTest,
    dial: Dial,
    limits: Mapping[str, str],
    is_dependent: bool,
    found: list[Change],
) -> Tested:
    """Return what one test gives, by what stands around it."""
    result = threshold_test(
        told.readings,
        dial,
        limits,
        is_dependent=is_dependent,
        is_ordered=told.is_ordered,
        unit=told.unit,
    )
    offer = next_output(told.readings, told.set_output, dial, limits, is_dependent)
    kinds = offered_tests(is_dependent, told.pads_ready, told.doctor_present)
    return Tested(
        told, result, offer, kinds, since(told.time_ms, told.place, found) is None
    )


def standing_tests(
    all_tests: Sequence[Tested],
    found: list[Change],
    now_ms: int | None,
    limits: Mapping[str, str],
) -> tuple[list[Tested], str]:
    """Return the tests that stand, and what made the last one fall if none does.

    A test in which nothing captured, or that contradicts itself, ends what was known
    before it while it is the latest; afterwards the higher of all counts.
    """
    read = [one for one in all_tests if one.result.method]
    standing = [one for one in read if one.stands]
    young = [one for one in standing if not is_old(one.told.time_ms, now_ms, limits)]
    if young:
        return _counting(young), ""
    if standing:
        return [], "old"
    if read:
        change = since(read[-1].told.time_ms, read[-1].told.place, found)
        return [], change.code if change else ""
    return [], ""


def _counting(young: list[Tested]) -> list[Tested]:
    """Return the tests of which the higher counts, by the last that failed."""
    failed = [n for n, one in enumerate(young) if _has_failed(one)]
    if not failed:
        return young
    before, since_then = young[: failed[-1]], young[failed[-1] :]
    if any(one.result.threshold is not None for one in since_then):
        return young
    # Only upper bounds since: an older threshold below them is no longer certain.
    bounds = [Fraction(n) for one in since_then if (n := one.result.at_most)]
    older = [
        one
        for one in before
        if bounds
        and (n := one.result.threshold)
        and Fraction(n) >= max(bounds)
        # A bound at another pulse width says nothing of this one.
        and all(are_like(one.told.width_ms, at.told.width_ms) for at in since_then)
    ]
    return [*older, *since_then]


def _has_failed(one: Tested) -> bool:
    return one.result.threshold is None and one.result.at_most is None


def best_test(standing: list[Tested], left_ms: str | None = None) -> Tested | None:
    """Return the test that counts: the highest threshold of the latest unit.

    Where no test found one, the highest upper bound; where the latest failed, it.
    In volts of one pulse width only: `left_ms`, that of the dial; where it is not told,
    or no test was made at it, that of the latest test.
    """
    if not standing:
        return None
    last = standing[-1].told
    units = [one for one in standing if one.told.unit == last.unit]
    at_dial = [
        one
        for one in units
        if left_ms is not None and are_like(one.told.width_ms, left_ms)
    ]
    same = at_dial or [
        one for one in units if are_like(one.told.width_ms, last.width_ms)
    ]
    for name in ("threshold", "at_most"):
        able = [one for one in same if getattr(one.result, name) is not None]
        if able:
            # Of equal values the latest: it is the youngest.
            able.reverse()
            return max(able, key=lambda one: Fraction(getattr(one.result, name)))
    return same[-1]
