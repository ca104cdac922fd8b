"""Mean pressure, computed from systolic and diastolic; named so wherever it is shown.

Source: published case CR-03, which prints 53 mmHg for 80/40. Definition: the diastolic
and a third of the pulse pressure.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from webapp.clinical.exact import decimal, number
from webapp.clinical.rows import point

UNIT = "mm[Hg]"
_HARD = (Fraction(0), Fraction(350))  # the catalogue's, of each of both
# The clinical definition: a third of the pulse pressure.
_THIRD = Fraction(1, 3)
# Limits of ours: half of 1 more, cut, is the nearest whole.
_HALF = Fraction(1, 2)


def mean_pressure(systolic: Any, diastolic: Any) -> str | None:
    """Return the mean in whole mmHg, to the nearest; None unless both are numbers.

    A range, a comparator, "low", what cannot be, or a diastolic above the systolic
    gives none.
    """
    ends = [number(point(one, UNIT, _HARD).n) for one in (systolic, diastolic)]
    high, low = ends
    if high is None or low is None or low > high:
        return None
    mean = low + (high - low) * _THIRD
    return decimal(Fraction((mean + _HALF) // 1))
