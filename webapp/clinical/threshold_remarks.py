"""What a threshold test leaves open, and what it found, as remarks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from webapp.clinical.counted import Counted, Reading, Result
from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.exact import decimal, number
from webapp.clinical.remarks import Remark, Weight

# Weight, the limit that decided, what policy asks.
_TIERS: dict[str, tuple[Weight, str, str]] = {
    "good": ("fits", "threshold_good_ma", ""),
    "acceptable": ("fits", "threshold_acceptable_ma", ""),
    "marginal": ("look_again", "threshold_acceptable_ma", ""),
    "high": ("look_again", "threshold_marginal_ma", "reposition"),
}


@dataclass(frozen=True, slots=True)
class Doubts:
    """What the remarks on one test look at.

    `low`: highest output lost, beside a threshold; `marks`: each output and how it
    counts, in the order read.
    """

    dial: Dial
    unit: str
    low: Fraction | None
    threshold: Fraction | None
    at_most: Fraction | None
    marks: tuple[tuple[Fraction, Result], ...]

    def outputs(self, result: Result) -> list[Fraction]:
        """Return the outputs that count so."""
        return [x for x, counted in self.marks if counted == result]

    def words(self, **outputs: Fraction) -> dict[str, str]:
        """Return outputs as shown on this dial, with the unit."""
        told = {name: shown_on(self.dial, decimal(x)) for name, x in outputs.items()}
        return {**told, "unit": self.unit}


def doubts(test: Doubts, limits: Mapping[str, str]) -> list[Remark]:
    """Return what about the test itself asks for a second look.

    A loss at or above a capture; a bracket wider than one dial step and wider than
    `bracket_wide_ma`; can't tell inside the bracket or above the threshold. The
    value is still shown.
    """
    captured, lost = test.outputs("captures"), test.outputs("no_capture")
    found: list[Remark] = []
    if captured and lost and min(captured) <= max(lost):
        code = "contradictory" if test.threshold is None else "not_monotone"
        told = test.words(lost=max(lost), captured=min(captured))
        found.append(Remark(code, "look_again", told))
    return [*found, *_wide(test, limits), *_unclear(test)]


def _wide(test: Doubts, limits: Mapping[str, str]) -> list[Remark]:
    wide = number(limits.get("bracket_wide_ma"))
    if test.low is None or test.threshold is None or wide is None or test.unit != "mA":
        return []
    next_up = test.dial.above(test.low)
    if next_up is None or test.threshold <= next_up:
        return []
    if test.threshold - test.low <= wide:
        return []
    told = test.words(low=test.low, high=test.threshold)
    return [Remark("bracket_wide", "look_again", told, ("bracket_wide_ma",))]


def _unclear(test: Doubts) -> list[Remark]:
    top = test.at_most if test.threshold is None else test.threshold
    if top is None:
        return []
    unclear = test.outputs("cannot_tell")
    bottom = top if test.low is None else test.low
    inside = [x for x in unclear if bottom < x < top]
    above = [x for x in unclear if x > top]
    found = []
    if inside:
        told = test.words(output=max(inside), low=bottom, high=top)
        found.append(Remark("unclear_inside", "look_again", told))
    if above:
        told = test.words(output=min(above), threshold=top)
        found.append(Remark("unclear_above", "look_again", told))
    return found


def mistaken(
    readings: Sequence[Reading],
    counted: Sequence[Counted],
    test: Doubts,
    limits: Mapping[str, str],
) -> list[Remark]:
    """Return why readings count as can't tell although they said more, or may."""
    why = {count.why for count in counted}
    found: list[Remark] = []
    if "pads_pacing" in why:
        found.append(Remark("pads_pacing", "look_now"))
    if "rate_too_close" in why:
        at = next(n for n, count in enumerate(counted) if count.why == "rate_too_close")
        key = "rate_above_own_per_min"
        told = {
            "rate": readings[at].rate or "",
            "own": readings[at].own_rate or "",
            "above": limits[key],
        }
        remark = Remark("rate_too_close", "look_again", told, (key,), "pace_above_own")
        found.append(remark)
    found += _rate_unsaid(readings, limits)
    if "no_output" in why:
        found.append(Remark("no_output", "look_again", test.words(output=Fraction(0))))
    return found


def _rate_unsaid(
    readings: Sequence[Reading], limits: Mapping[str, str]
) -> list[Remark]:
    """Return the question for the pacing rate beside an own rhythm of a known rate.

    Its readings count as told: a rate that nobody said changes nothing.
    """
    key = "rate_above_own_per_min"
    for reading in readings:
        is_said = reading.rate is not None or reading.result == "cannot_tell"
        if not is_said and reading.own_rate is not None and key in limits:
            told = {"own": reading.own_rate, "above": limits[key]}
            return [Remark("rate_unsaid", "look_again", told, (key,), "pace_above_own")]
    return []


def results(
    test: Doubts, tier: str | None, none_up_to: Fraction | None, clean: bool
) -> list[Remark]:
    """Return what the test found: its tier, that it is clean, or no capture."""
    found: list[Remark] = []
    if none_up_to is not None:
        told = test.words(output=none_up_to)
        found.append(Remark("no_capture_up_to", "look_again", told, asks="reposition"))
    if test.threshold is None or test.low is None:
        return found
    told = test.words(low=test.low, high=test.threshold, threshold=test.threshold)
    if clean:
        found.append(Remark("clean_test", "fits", told))
    if tier is not None:
        weight, key, asks = _TIERS[tier]
        found.append(Remark(f"tier_{tier}", weight, told, (key,), asks))
    return found
