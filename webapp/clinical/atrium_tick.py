"""Where the atrium is expected to start, by height: a faint tick, never a limit.

Nothing else on the ruler moves with height. Adults: Peres 1990; children: Andropoulos
2001, from memory. Source: fixtures/sources.md#clinical-3, #domain-2.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.exact import decimal, number
from webapp.clinical.rows import HARD_HEIGHT

# domain 2d: a tenth of the height, less so many cm; the two ways in that have one.
PART = Fraction(1, 10)
ADULT_LESS = {"neck": Fraction(0), "subclavian": Fraction(2)}
CHILD_LESS = (Fraction(1), Fraction(2))
CHILD_LINE_CM = Fraction(100)


def atrium_tick_cm(
    height_cm: str | None, site: str, side: str, is_adult: bool
) -> str | None:
    """Return the depth of the tick, cm, or None: left sites, femoral, arm have none.

    ("170", "neck", "right", True) gives "17"; a height that cannot be gives None.
    """
    height = number(height_cm)
    low, high = HARD_HEIGHT
    if height is None or side != "right" or not low <= height <= high:
        return None
    less = ADULT_LESS.get(site)
    if less is None:
        return None
    if not is_adult:
        less = CHILD_LESS[0] if height <= CHILD_LINE_CM else CHILD_LESS[1]
    return decimal(height * PART - less)


def tick_formula(height_cm: str | None, site: str, side: str, is_adult: bool) -> str:
    """Return the code of the formula a tick comes from, "" without a tick.

    Its name and how often it is right stand under `clinical.tick.<code>`.
    """
    if atrium_tick_cm(height_cm, site, side, is_adult) is None:
        return ""
    if is_adult:
        return f"adult_{site}"
    height = number(height_cm)
    is_short = height is not None and height <= CHILD_LINE_CM
    return "child_short" if is_short else "child_tall"
