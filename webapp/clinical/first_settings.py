"""The first settings policy asks for, by urgency: shown, never filled in.

Source: fixtures/sources.md#clinical-10, #domain-4d.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.arrests import in_arrest
from webapp.clinical.certain import certain_ends
from webapp.clinical.exact import decimal, number
from webapp.clinical.output import PolicyAsks
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.rows import one_answer

# 60 to 80 /min where it is no emergency: domain 4d, found.
_UNHURRIED = ("60", "80")
_ABOVE_OWN = Fraction(10)


@dataclass(frozen=True, slots=True)
class FirstSettings:
    """`rate_low` to `rate_high`, /min; `output`: mA, None for the dial's maximum;
    `sensitivity`: mV, None where asynchronous.
    """

    is_emergency: bool
    rate_low: str
    rate_high: str
    output: str | None
    mode: str
    sensitivity: str | None


def first_settings(
    urgency: str, own: str, own_rate: str | None, limits: Mapping[str, str]
) -> FirstSettings | None:
    """Return what policy asks first, None where nothing can be asked.

    `urgency`: emergency, urgent, planned; `own`: result of the own rhythm, or
    "arrest"; `own_rate`: /min, its higher end. Adults only: a child has no row.
    """
    least = number(limits.get("first_rate_emergency_per_min"))
    output, mv = (
        limits.get("first_output_urgent_ma"),
        limits.get("first_sensitivity_mv"),
    )
    if least is None or output is None or mv is None:
        return None
    if urgency in ("urgent", "planned"):
        return FirstSettings(False, *_UNHURRIED, output, "VVI", mv)
    if urgency != "emergency":
        return None
    rate = number(own_rate)
    asked = decimal(least if rate is None else max(least, rate + _ABOVE_OWN))
    if own in ("none", "arrest"):
        return FirstSettings(True, asked, asked, None, "VOO", None)
    return FirstSettings(True, asked, asked, None, "VVI", mv)


def first_settings_of(
    fold: dict[str, Any], limits: Mapping[str, str]
) -> FirstSettings | None:
    """Return what policy asks first, as the record stands."""
    rows = own_rows(fold)
    own = own_rhythm(rows[-1] if rows else None)
    rate = certain_ends(rows[-1].value.get("rate"), "/min")[1] if rows else None
    has_rate = own.result == "rhythm" and rate is not None
    return first_settings(
        str(one_answer(fold, "indication.urgency")),
        "arrest" if in_arrest(fold) else str(own.result),
        decimal(rate) if has_rate and rate is not None else None,
        limits,
    )


def left_beside_asked(asks: PolicyAsks, left_at: str | None, unit: str) -> str:
    """Return how the dial left at stands to what policy asked: "below", "at", "above".

    "" where one of them is not known or their units differ: nothing is converted.
    """
    asked, left = number(asks.output), number(left_at)
    if asked is None or left is None or asks.unit != unit:
        return ""
    if left == asked:
        return "at"
    return "above" if left > asked else "below"
