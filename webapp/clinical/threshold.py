"""The threshold test: from captured and lost outputs to a threshold with its bracket.

Source: fixtures/sources.md#clinical-7 (the rule), #domain-4b (its publications).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from webapp.clinical.counted import Counted, Reading, Result, counts_as
from webapp.clinical.dial import Dial
from webapp.clinical.exact import decimal, number
from webapp.clinical.remarks import Remark, heavier_first
from webapp.clinical.threshold_remarks import Doubts, doubts, mistaken, results

Method = Literal[
    "up", "down", "unordered", "loss_not_sought", "no_capture", "contradictory", ""
]
Tier = Literal["good", "acceptable", "marginal", "high"]
_TIERS: tuple[tuple[str, Tier], ...] = (
    ("threshold_good_ma", "good"),
    ("threshold_acceptable_ma", "acceptable"),
    ("threshold_marginal_ma", "marginal"),
)


@dataclass(frozen=True, slots=True)
class Bracket:
    """From the highest output lost to the lowest that captures above it."""

    low: str
    high: str


@dataclass(frozen=True, slots=True)
class ThresholdTest:
    """What one test gives; outputs in the test's unit, exact decimals as text.

    At most one of `threshold`, `at_most` (no loss in the test) and `none_up_to` (no
    capture in it) is set; none when outputs contradict each other or nothing could
    be told. `method`: "up" by dial steps after the last loss, "down", lost at the
    bracket's low end; "unordered" says no direction. `clean`: nothing about the test
    itself asks for a second look; only where not is `may_repeat` ever true, and never
    for a dependent patient. `counted`: one for each reading.
    """

    threshold: str | None
    bracket: Bracket | None
    method: Method
    at_most: str | None
    none_up_to: str | None
    tier: Tier | None
    clean: bool
    may_repeat: bool
    counted: tuple[Counted, ...]
    remarks: tuple[Remark, ...]


def threshold_test(
    readings: Sequence[Reading],
    dial: Dial,
    limits: Mapping[str, str],
    *,
    is_dependent: bool = False,
    is_ordered: bool = True,
    unit: str = "mA",
) -> ThresholdTest:
    """Return threshold, bracket, method and remarks of one test.

    `readings`: in the order read; `is_ordered`: false where that order is not sure
    (two tablets). Tiers are silent in volts, and where `limits` has none (children).
    2.0 captures, 1.0 captures, 0.8 no capture, 10 captures gives 1.0, bracket 0.8 to
    1.0; a jump back to a high output neither raises nor lowers the value.
    """
    counted = tuple(counts_as(reading, limits) for reading in readings)
    marks = tuple(
        (output, count.counts_as)
        for reading, count in zip(readings, counted, strict=True)
        if (output := number(reading.output)) is not None
    )
    captured = [x for x, result in marks if result == "captures"]
    lost = [x for x, result in marks if result == "no_capture"]
    threshold = _threshold(captured, lost) if lost else None
    at_most = min(captured) if captured and not lost else None
    none_up_to = max(lost) if lost and not captured else None
    low = max(lost) if threshold is not None else None
    said = Doubts(dial, unit, low, threshold, at_most, marks)
    open_ = doubts(said, limits)
    tier = _tier(threshold, limits) if unit == "mA" else None
    clean = bool(captured) and not open_
    return ThresholdTest(
        threshold=_text(threshold),
        bracket=_bracket(low, threshold),
        method=_method(marks, threshold, dial, is_ordered),
        at_most=_text(at_most),
        none_up_to=_text(none_up_to),
        tier=tier,
        clean=clean,
        may_repeat=bool(open_) and not is_dependent,
        counted=counted,
        remarks=heavier_first(
            (
                *mistaken(readings, counted, said, limits),
                *open_,
                *results(said, tier, none_up_to, clean),
            )
        ),
    )


def _threshold(captured: list[Fraction], lost: list[Fraction]) -> Fraction | None:
    highest_lost = max(lost)
    return min((x for x in captured if x > highest_lost), default=None)


def _bracket(low: Fraction | None, threshold: Fraction | None) -> Bracket | None:
    if low is None or threshold is None:
        return None
    return Bracket(decimal(low), decimal(threshold))


def _text(value: Fraction | None) -> str | None:
    return None if value is None else decimal(value)


def _method(
    marks: tuple[tuple[Fraction, Result], ...],
    threshold: Fraction | None,
    dial: Dial,
    is_ordered: bool,
) -> Method:
    told = {result for _, result in marks}
    if "no_capture" not in told:
        return "loss_not_sought" if "captures" in told else ""
    if "captures" not in told:
        return "no_capture"
    if threshold is None:
        return "contradictory"
    if not is_ordered:
        return "unordered"
    return "up" if _rose_to(threshold, marks, dial) else "down"


def _rose_to(
    threshold: Fraction, marks: tuple[tuple[Fraction, Result], ...], dial: Dial
) -> bool:
    """Tell whether single dial steps led from the last loss to the threshold."""
    last = max(n for n, (_, result) in enumerate(marks) if result == "no_capture")
    here = marks[last][0]
    for output, result in marks[last + 1 :]:
        if output != dial.above(here):
            return False
        if result == "captures":
            return output == threshold
        here = output
    return False


def _tier(threshold: Fraction | None, limits: Mapping[str, str]) -> Tier | None:
    if threshold is None:
        return None
    for key, tier in _TIERS:
        bound = number(limits.get(key))
        if bound is None:
            return None
        if threshold <= bound:
            return tier
    return "high"
