"""Output readings, and how each counts in a threshold test."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from webapp.clinical.exact import number

Result = Literal["captures", "no_capture", "cannot_tell"]
WhyNot = Literal["", "pads_pacing", "rate_too_close", "no_output"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One output with its result. Outputs and rates are exact decimals as text.

    `rate`: pacing rate in use, None when not said; `own_rate`: own rhythm then, None
    when none or not known; `pads_pacing`: skin pacing was open as "pacing now".
    """

    output: str
    result: Result
    rate: str | None = None
    own_rate: str | None = None
    pads_pacing: bool = False


@dataclass(frozen=True, slots=True)
class Counted:
    """How a reading counts; `why` it counts as can't tell although it said more."""

    counts_as: Result
    why: WhyNot = ""


def counts_as(reading: Reading, limits: Mapping[str, str]) -> Counted:
    """Return how a reading counts.

    Not as said, but as can't tell: while the pads pace; when pacing is known to be
    less than `rate_above_own_per_min` above the own rhythm; a capture at no output.
    A rate that nobody said changes nothing.
    Source: fixtures/sources.md#clinical-7; CTSNet (domain 4b).
    """
    why = "" if reading.result == "cannot_tell" else _why_not(reading, limits)
    return Counted("cannot_tell" if why else reading.result, why)


def _why_not(reading: Reading, limits: Mapping[str, str]) -> WhyNot:
    if reading.pads_pacing:
        return "pads_pacing"
    if _is_too_close(reading, number(limits.get("rate_above_own_per_min"))):
        return "rate_too_close"
    output = number(reading.output)
    if reading.result == "captures" and (output is None or output <= 0):
        return "no_output"
    return ""


def _is_too_close(reading: Reading, above: Fraction | None) -> bool:
    rate, own = number(reading.rate), number(reading.own_rate)
    if rate is None or own is None or above is None:
        return False
    return rate < own + above
