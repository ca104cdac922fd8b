"""Whether a value can be what it says, in its unit or in another of its field.

Source: fixtures/sources.md#clinical-14. Nothing is converted: a value that fits only
another unit is asked about, one that fits none is impossible.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Literal

from webapp.clinical.rows import ends_of

Ends = tuple[Fraction, Fraction]
Verdict = Literal["", "asked", "impossible"]

# clinical 14: hard ranges as in the catalogue (a test holds them equal), the field's
# first unit first. In mg/dL by molar mass, IUPAC 2021: K 39.0983, Mg 24.305 g/mol; in
# degrees Fahrenheit by definition.
HARD_OF: dict[str, dict[str, Ends]] = {
    "potassium": {
        "mmol/L": (Fraction(1, 2), Fraction(20)),
        "mg/dL": (Fraction(390983, 200000), Fraction(390983, 5000)),
    },
    "magnesium": {
        "mmol/L": (Fraction(0), Fraction(20)),
        "mg/dL": (Fraction(0), Fraction(24305, 500)),
    },
    "temperature": {
        "Cel": (Fraction(10), Fraction(47)),
        "[degF]": (Fraction(50), Fraction(583, 5)),
    },
    "inr": {"": (Fraction(1, 2), Fraction(30))},
    "platelets": {"10*9/L": (Fraction(0), Fraction(6000))},
    "ph": {"": (Fraction(6), Fraction(8))},
    "weight": {"kg": (Fraction(1, 5), Fraction(700))},
    "height": {"cm": (Fraction(20), Fraction(275))},
}
_SIGNS = {">=": "≥", "<=": "≤"}


def verdict(name: str, value: Any) -> Verdict:
    """Return whether a value is used, asked about, or impossible.

    Potassium in mg/dL is always asked about: it lies within the hard range, and is a
    misprint of mmol/L as a rule.
    """
    units = HARD_OF[name]
    unit = value.get("unit") if isinstance(value, dict) else None
    if not isinstance(unit, str) or "absent" in value:
        return ""
    if ends_of(value, unit) == (None, None):
        return ""
    fitting = [one for one in units if _fits(value, unit, units[one])]
    if unit == "" and "" not in units:
        # Without a unit the first one is meant, where it alone can be.
        return (
            ("" if fitting == list(units)[:1] else "asked") if fitting else "impossible"
        )
    if unit not in units:
        return ""
    if (name, unit) == ("potassium", "mg/dL"):
        return "asked"
    if unit in fitting:
        return ""
    return "asked" if fitting else "impossible"


def written(value: dict[str, Any]) -> str:
    """Return the figures of a value as read aloud: "7.3", "> 10", "20 to 30"."""
    if "low" in value:
        return f"{value['low']} to {value.get('high', '')}"
    sign = str(value.get("cmp", ""))
    return f"{_SIGNS.get(sign, sign)} {value['n']}".strip()


def _fits(value: Any, unit: str, hard: Ends) -> bool:
    """Tell whether the figures may lie within a range; a comparator is compared."""
    low, high = ends_of(value, unit)
    is_below = high is not None and high < hard[0]
    return not is_below and not (low is not None and low > hard[1])
