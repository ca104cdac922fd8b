"""Whether outputs in volts were told at one pulse width: only like is held to like.

Source: fixtures/sources.md#clinical-7 (volts are kept at their pulse width),
#clinical-8 (a multiple of the threshold in volts at the same pulse width).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from webapp.clinical.exact import decimal, number
from webapp.clinical.rows import rows_of

WhyUnlike = Literal["", "other_width", "width_not_told"]


def usual_width(fold: dict[str, Any], wire: str) -> Any:
    """Return what the wire's latest generator tells of its pulse width, or None."""
    rows = rows_of(fold, f"wires/{wire}/capture.generator")
    return rows[-1].value.get("pulse_width") if rows else None


def width_of(told: Mapping[str, Any], usual: Any, unit: str) -> str | None:
    """Return the pulse width of a row in volts, ms, in its one written form, or None.

    Its own, else `usual`, the generator's; a width said not to be known is none.
    """
    value = told.get("pulse_width", usual)
    if unit != "V" or not isinstance(value, dict) or value.get("unit") != "ms":
        return None
    if {"absent", "low", "cmp", "special"} & set(value):
        return None
    exact = number(value.get("n"))
    return decimal(exact) if exact is not None and exact > 0 else None


def are_like(one_ms: str | None, other_ms: str | None) -> bool:
    """Tell whether two pulse widths may be one: only two known ones are unlike."""
    return one_ms is None or other_ms is None or one_ms == other_ms


def why_unlike(
    left_ms: str | None, counted_ms: str | None, tested_ms: Sequence[str | None]
) -> WhyUnlike:
    """Return why the dial cannot be held against the test that counts, or "".

    `tested_ms`: of all tests that stand. Where they are unlike and the dial's is not
    told, nobody knows which of them it goes with.
    """
    if not are_like(left_ms, counted_ms):
        return "other_width"
    is_mixed = len({width for width in tested_ms if width is not None}) > 1
    return "width_not_told" if left_ms is None and is_mixed else ""
