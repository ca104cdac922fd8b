"""Whether the own rhythm can be relied on, and which tests that allows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.clinical.exact import number

Result = Literal["rhythm", "none", "not_tested", "not_tolerated"]
Why = Literal[
    "reliable", "not_asked", "none", "not_tested", "not_tolerated",
    "tolerance_not_said", "rate_not_known", "slow", "not_called_reliable",
]  # fmt: skip
TestKind = Literal["full", "margin_shown"]


@dataclass(frozen=True, slots=True)
class OwnRhythm:
    """The latest answer to "own rhythm with pacing turned down?".

    `result`: None when it was never asked; `rate_per_min`: exact decimal, the lower
    end of a range; `is_tolerated`, `is_called_reliable`: None when not said, the
    latter the clinician's own word, which alone decides in a child.
    """

    result: Result | None = None
    rate_per_min: str | None = None
    is_tolerated: bool | None = None
    is_called_reliable: bool | None = None


@dataclass(frozen=True, slots=True)
class Dependence:
    """`is_dependent`: so treated in tests, output and wording; `why`: a code."""

    is_dependent: bool
    why: Why


def dependence(own: OwnRhythm, limits: Mapping[str, str]) -> Dependence:
    """Return whether to treat the patient as dependent.

    Reliable: an own rate of at least `own_rhythm_minimum_per_min`, and tolerated.
    Everything else, not tested and not asked included, is treated as dependent.
    Without that limit (a child) the clinician's own word decides.
    Source: fixtures/sources.md#clinical-6; cjdbarlow.au (domain 4c).
    """
    why = _why(own, limits)
    return Dependence(why != "reliable", why)


def _why(own: OwnRhythm, limits: Mapping[str, str]) -> Why:
    if own.result is None:
        return "not_asked"
    if own.result != "rhythm":
        return own.result
    if own.is_tolerated is None:
        return "tolerance_not_said"
    if not own.is_tolerated:
        return "not_tolerated"
    least = number(limits.get("own_rhythm_minimum_per_min"))
    if least is None:
        return "reliable" if own.is_called_reliable else "not_called_reliable"
    rate = number(own.rate_per_min)
    if rate is None:
        return "rate_not_known"
    return "reliable" if rate >= least else "slow"


def offered_tests(
    is_dependent: bool, pads_ready: bool, doctor_present: bool
) -> tuple[TestKind, ...]:
    """Return the kinds of threshold test that may be offered, the default first.

    A dependent patient is offered a full test only with pads connected, pacing mode
    ready, and a doctor present, both said for this test; even then no reading below
    the margin shown is ever suggested. Source: fixtures/sources.md#clinical-7.
    """
    if not is_dependent:
        return ("full", "margin_shown")
    if pads_ready and doctor_present:
        return ("margin_shown", "full")
    return ("margin_shown",)


def may_offer_sensing_test(is_dependent: bool) -> bool:
    """Return whether a sensing test is offered: only with a rhythm to sense."""
    return not is_dependent
