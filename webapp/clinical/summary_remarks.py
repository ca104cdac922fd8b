"""Remarks that look at several tests, or at a test beside the settings."""

from __future__ import annotations

from collections.abc import Mapping

from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.exact import decimal, number
from webapp.clinical.left_at import LeftAt
from webapp.clinical.margin import Margin
from webapp.clinical.output import PolicyAsks
from webapp.clinical.pulse_widths import WhyUnlike, are_like
from webapp.clinical.remarks import Remark
from webapp.clinical.standing import Tested


def retest(stale: str, limits: Mapping[str, str]) -> list[Remark]:
    """Say why the margin is unknown although a test was made."""
    if not stale:
        return []
    if stale != "old":
        return [Remark(f"retest_{stale}", "look_again")]
    told = {"hours": limits["threshold_stale_h"]}
    return [Remark("retest_old", "look_again", told, ("threshold_stale_h",))]


def several_tests(
    standing: list[Tested], best: Tested | None, dial: Dial
) -> list[Remark]:
    """Say that two or more thresholds stand, of which the higher counts."""
    if best is None or best.result.threshold is None:
        return []
    values = [
        exact
        for one in standing
        if one.told.unit == best.told.unit
        and are_like(one.told.width_ms, best.told.width_ms)
        and (exact := number(one.result.threshold)) is not None
    ]
    if len(values) < 2:
        return []
    told = {
        "count": str(len(values)),
        "low": shown_on(dial, decimal(min(values))),
        "high": shown_on(dial, best.result.threshold),
        "unit": best.told.unit,
    }
    return [Remark("several_tests", "fits", told)]


def not_comparable(
    why: WhyUnlike, left_at: LeftAt | None, best: Tested | None, all_tests: list[Tested]
) -> list[Remark]:
    """Say why volts read back are not held against volts of another pulse width."""
    if not why or left_at is None or best is None:
        return []
    if why == "other_width":
        told = {"tested": best.told.width_ms or "", "left_at": left_at.width_ms or ""}
        return [Remark("margin_other_width", "look_again", told)]
    widths = [exact for one in all_tests if (exact := number(one.told.width_ms))]
    told = {"low": decimal(min(widths)), "high": decimal(max(widths))}
    return [Remark("margin_width_not_told", "look_again", told)]


def below_minimum(
    left_at: LeftAt | None,
    asks: PolicyAsks,
    held: Margin,
    dial: Dial,
    limits: Mapping[str, str],
) -> list[Remark]:
    """Say that final settings hold their margin, yet lie below the lowest output."""
    if left_at is None or not left_at.is_final or held.verdict != "holds":
        return []
    output, asked = number(left_at.output), number(asks.output)
    if not asks.is_minimum or output is None or asked is None or output >= asked:
        return []
    told = {
        "output": shown_on(dial, left_at.output or ""),
        "asked": shown_on(dial, asks.output or ""),
        "unit": asks.unit,
    }
    return [Remark("left_below_minimum", "look_again", told, ("output_minimum_ma",))]
