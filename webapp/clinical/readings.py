"""One wire's threshold, output policy asks and margin, from a folded record.

Pure: the same fold, limits and `now_ms` give the same summary, here and on the tablet.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from webapp.clinical.ages import AgeClass
from webapp.clinical.dependence import Dependence, dependence
from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.left_at import LeftAt, dial_in_use, settings
from webapp.clinical.margin import UNKNOWN, Margin, Setting, margin
from webapp.clinical.output import PolicyAsks, WhyNone, policy_asks
from webapp.clinical.policy import Policy
from webapp.clinical.pulse_widths import WhyUnlike, why_unlike
from webapp.clinical.remarks import Remark, heavier_first
from webapp.clinical.retest import Change, changes
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.standing import Tested, best_test, standing_tests, tested
from webapp.clinical.summary_remarks import (
    below_minimum,
    not_comparable,
    retest,
    several_tests,
)
from webapp.clinical.threshold import Bracket, ThresholdTest
from webapp.clinical.told import Told
from webapp.clinical.told_tests import LeftOut, told_tests


@dataclass(frozen=True, slots=True)
class ThresholdSummary:
    """What is known of one wire's threshold; outputs in `unit`, exact decimals.

    `counted`: the test that counts ("" for readings of no test), None where none does;
    at most one of `threshold`, `at_most`, `none_up_to` is set. `retest`: code of what
    made the last test one that stood, else "": then threshold and margin are unknown.
    `shown`: the same outputs as shown on this dial, by name. `remarks`: heavier first.
    """

    wire: str
    unit: str
    age: AgeClass
    dependence: Dependence
    dial_known: bool
    tests: tuple[Tested, ...]
    counted: str | None
    threshold: str | None
    at_most: str | None
    none_up_to: str | None
    bracket: Bracket | None
    method: str
    tier: str | None
    retest: str
    asks: PolicyAsks
    left_at: LeftAt | None
    margin: Margin
    shown: dict[str, str]
    remarks: tuple[Remark, ...]
    left_out: tuple[LeftOut, ...]


def threshold_summary(
    fold: dict[str, Any],
    wire: str,
    policy: Policy,
    *,
    now_ms: int | None = None,
    at_handover: bool = False,
) -> ThresholdSummary:
    """Return one wire's threshold summary.

    `fold`: the record as `record.fold` gives it; `wire`: entry id of the wire's row;
    `now_ms`: Unix milliseconds, None leaves the age of the test unjudged. Never pairs
    one wire's threshold with another wire's output; never computes with an impossible
    or missing value; writes nothing.
    """
    case = _case(fold, wire, policy)
    standing, stale = standing_tests(case.tests, case.changes, now_ms, case.limits)
    best = best_test(standing, case.left_at.width_ms if case.left_at else None)
    same = [one for one in standing if best and one.told.unit == best.told.unit]
    why = _why_unlike(case, best, same)
    asks = _asks(case, best, stale, why)
    held = _margin(case, best, at_handover, why)
    beside = [
        *retest(stale, case.limits),
        *not_comparable(why, case.left_at, best, same),
        *several_tests(standing, best, case.dial),
        *below_minimum(case.left_at, asks, held, case.dial, case.limits),
    ]
    result = best.result if best else None
    return ThresholdSummary(
        wire=wire,
        unit=_unit(case, best),
        age=case.age,
        dependence=case.dependence,
        dial_known=case.dial.known,
        tests=case.tests,
        counted=best.told.id if best else None,
        threshold=result.threshold if result else None,
        at_most=result.at_most if result else None,
        none_up_to=result.none_up_to if result else None,
        bracket=result.bracket if result else None,
        method=result.method if result else "",
        tier=result.tier if result else None,
        retest=stale,
        asks=asks,
        left_at=case.left_at,
        margin=held,
        shown=_shown(case, result, asks),
        remarks=_remarks(case, best, stale, [*held.remarks, *beside]),
        left_out=tuple(row for test in case.tests for row in test.told.left_out),
    )


@dataclass(frozen=True, slots=True)
class _Case:
    """What the record says around one wire's threshold."""

    age: AgeClass
    limits: Mapping[str, str]
    dependence: Dependence
    dial: Dial
    is_voltage: bool
    left_at: LeftAt | None
    changes: list[Change]
    tests: tuple[Tested, ...]


def _case(fold: dict[str, Any], wire: str, policy: Policy) -> _Case:
    told = Told(fold, policy)
    limits = told.limits
    rows = own_rows(fold)
    depends = dependence(own_rhythm(rows[-1] if rows else None), limits)
    dial, is_voltage = dial_in_use(fold, wire)
    left = settings(fold, wire, dial)
    found = changes(fold, wire, limits)
    tests = tuple(
        tested(test, dial, limits, depends.is_dependent, found)
        for test in told_tests(fold, wire, dial, left)
    )
    left_at = left[-1] if left else None
    return _Case(told.age, limits, depends, dial, is_voltage, left_at, found, tests)


def _unit(case: _Case, best: Tested | None) -> str:
    if best is not None:
        return best.told.unit
    if case.tests and case.tests[-1].told.ids:
        return case.tests[-1].told.unit
    if case.left_at is not None:
        return case.left_at.unit
    return "V" if case.is_voltage else "mA"


def _why_unlike(case: _Case, best: Tested | None, same: list[Tested]) -> WhyUnlike:
    """Return why a test and the dial, both in volts, are not comparable."""
    left_at = case.left_at
    if best is None or left_at is None or left_at.output is None:
        return ""
    if left_at.unit != best.told.unit:
        return ""
    if best.result.threshold is None and best.result.at_most is None:
        return ""
    widths = [one.told.width_ms for one in same]
    return why_unlike(left_at.width_ms, best.told.width_ms, widths)


def _asks(
    case: _Case, best: Tested | None, stale: str, unlike: WhyUnlike
) -> PolicyAsks:
    why: WhyNone = "no_threshold"
    if stale:
        why = "retest"
    elif unlike:
        why = "pulse_width"
    elif best is not None and best.result.at_most is not None:
        why = "loss_not_sought"
    elif best is not None and best.result.none_up_to is not None:
        why = "no_capture"
    return policy_asks(
        best.result.threshold if best and not unlike else None,
        case.dial,
        case.limits,
        case.dependence.is_dependent,
        unit=_unit(case, best),
        why_none=why,
    )


def _margin(
    case: _Case, best: Tested | None, at_handover: bool, unlike: WhyUnlike
) -> Margin:
    left_at = case.left_at
    if unlike:
        return replace(UNKNOWN, why=unlike)
    if best is None or left_at is None or left_at.unit != best.told.unit:
        return UNKNOWN
    return margin(
        Setting(left_at.output, left_at.unit, left_at.is_final, at_handover),
        best.result.threshold,
        best.result.at_most,
        case.dial,
        case.limits,
        case.dependence.is_dependent,
    )


def _remarks(
    case: _Case, best: Tested | None, stale: str, found: list[Remark]
) -> tuple[Remark, ...]:
    """Return all remarks; of a test that no longer stands nothing is said but why."""
    told_by = () if stale else (best, *case.tests[-1:])
    tests = [r for one in told_by if one for r in one.result.remarks]
    return heavier_first((*found, *tests))


def _shown(
    case: _Case, result: ThresholdTest | None, asks: PolicyAsks
) -> dict[str, str]:
    bracket = result.bracket if result else None
    named = {
        "threshold": result.threshold if result else None,
        "at_most": result.at_most if result else None,
        "none_up_to": result.none_up_to if result else None,
        "low": bracket.low if bracket else None,
        "high": bracket.high if bracket else None,
        "asks": asks.output,
        "left_at": case.left_at.output if case.left_at else None,
    }
    return {k: shown_on(case.dial, v) for k, v in named.items() if v is not None}
