"""The output policy asks for: a multiple of the threshold, on the dial.

Computed, never written as a setting. Source: fixtures/sources.md#clinical-8.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from webapp.clinical.dial import Dial
from webapp.clinical.exact import decimal, number
from webapp.clinical.shown import times

WhyNone = Literal[
    "",
    "no_threshold",
    "loss_not_sought",
    "no_capture",
    "retest",
    "no_multiple",
    "pulse_width",
]


@dataclass(frozen=True, slots=True)
class PolicyAsks:
    """`output`: exact decimal in `unit`, None where nothing can be asked (`why_none`).

    `multiple`: of the threshold; `is_minimum`: the lowest output decided; `capped`:
    the margin left at the dial's highest, "2.2 ×", where that is less than asked,
    else ""; `dial_known`: false when 0.1 steps stand in for an unknown table.
    """

    output: str | None
    unit: str
    multiple: str | None = None
    is_minimum: bool = False
    capped: str = ""
    dial_known: bool = True
    why_none: WhyNone = ""


def multiple(limits: Mapping[str, str], is_dependent: bool) -> Fraction | None:
    """Return the multiple policy asks for; the larger one when dependent."""
    target = number(limits.get("threshold_margin_target"))
    if not is_dependent:
        return target
    higher = number(limits.get("margin_if_dependent"))
    if target is None or higher is None:
        return target or higher
    return max(target, higher)


def policy_asks(
    threshold: str | None,
    dial: Dial,
    limits: Mapping[str, str],
    is_dependent: bool,
    *,
    unit: str = "mA",
    why_none: WhyNone = "no_threshold",
) -> PolicyAsks:
    """Return min(max(multiple × threshold, minimum), highest), up to the dial.

    `threshold`: None where there is none, or only an upper bound (then `why_none`
    says so): no output is ever computed from a bound. No minimum is known in volts,
    at the same pulse width, nor in children. 0.9 × 2.5 on a dial of 0.5 gives 2.5.
    """
    exact = number(threshold)
    factor = multiple(limits, is_dependent)
    if exact is None or exact <= 0:
        return PolicyAsks(None, unit, why_none=why_none)
    if factor is None:
        return PolicyAsks(None, unit, why_none="no_multiple")
    wanted = factor * exact
    least = minimum(limits, unit)
    asked = wanted if least is None else max(wanted, least)
    output = dial.at_or_above(min(asked, dial.highest)) or dial.highest
    return PolicyAsks(
        output=decimal(output),
        unit=unit,
        multiple=decimal(factor),
        is_minimum=least is not None and least > wanted,
        capped=times(output / exact) if asked > dial.highest else "",
        dial_known=dial.known,
    )


def minimum(limits: Mapping[str, str], unit: str) -> Fraction | None:
    """Return the lowest output asked for whatever the threshold; mA only."""
    return number(limits.get("output_minimum_ma")) if unit == "mA" else None
