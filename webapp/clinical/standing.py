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
    """Return the tests of which the higher counts, by the last that failed at each
    pulse width.
    """
    failed = {one.told.width_ms: n for n, one in enumerate(young) if _has_failed(one)}
    return [
        one
        for n, one in enumerate(young)
        if all(_outlives(one, young[at:]) for at in failed.values() if at > n)
    ]


def _outlives(one: Tested, since_then: list[Tested]) -> bool:
    """Tell whether a test counts after a later one that failed, the first of these."""
    width_ms, failed_ms = one.told.width_ms, since_then[0].told.width_ms
    # A threshold at another pulse width lifts neither a failure nor what it ended.
    if any(
        at.result.threshold is not None
        and (are_like(at.told.width_ms, failed_ms) or at.told.width_ms == width_ms)
        for at in since_then
    ):
        return True
    # Only upper bounds since: an older threshold below them is no longer certain.
    bounds = [Fraction(n) for at in since_then if (n := at.result.at_most)]
    threshold = one.result.threshold
    if not bounds or threshold is None or Fraction(threshold) < max(bounds):
        return False
    # A bound at another pulse width says nothing of this one.
    ended = [at.told for at in since_then if at.result.threshold is None]
    return all(are_like(width_ms, at.width_ms) for at in ended)


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
