"""What passes through which sheath, and how thick it is.

Source: fixtures/sources.md#clinical-2.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from webapp.clinical.exact import number

LEAK_KEY = "sheath_over_wire_max_fr"
# domain 2e: French is three times the outer diameter in mm, by definition.
FR_PER_MM = Fraction(3)
# How it is shown, clinical 2: to a hundredth.
STEPS_PER_MM = 100
_HALF = Fraction(1, 2)


def outer_diameter_mm(fr: str | None) -> str | None:
    """Return an outer diameter, mm, to 0.01: "5" gives "1.67", "6" "2.00"."""
    size = number(fr)
    if size is None or size < 0:
        return None
    hundredths = (size / FR_PER_MM * STEPS_PER_MM + _HALF).__floor__()
    whole, part = divmod(hundredths, STEPS_PER_MM)
    return f"{whole}.{part:02d}"


def kit_fit(
    sheath_fr: str | None, wire_fr: str | None, limits: Mapping[str, str]
) -> str:
    """Return "fits", "leaks" or "does_not_pass"; "" where a size is not known."""
    sheath, wire = number(sheath_fr), number(wire_fr)
    widest = number(limits.get(LEAK_KEY))
    if sheath is None or wire is None:
        return ""
    if wire > sheath:
        return "does_not_pass"
    if widest is None:
        return ""
    return "fits" if sheath - wire <= widest else "leaks"
