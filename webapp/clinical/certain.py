"""What a quantity says for certain, where it is possible at all."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from webapp.clinical.rows import HARD, ends_of


def certain_ends(value: Any, unit: str) -> tuple[Fraction | None, Fraction | None]:
    """Return what a value is not below and not above, in `unit`; None where not sure.

    An end beyond the hard range makes the whole value one that says nothing.
    """
    low, high = HARD[unit]
    found = ends_of(value, unit)
    if any(end is not None and not low <= end <= high for end in found):
        return None, None
    return found
