"""Where a tip is expected by depth: soft bands by site and side, adults only.

Derived from pulmonary artery catheters; bands overlap, and depth alone never proves
a place. Source: fixtures/sources.md#domain-2.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Band:
    """`chamber`: before_ra, ra, rv or rv_apex; from `low_cm` to `high_cm`, both in.

    Only before the atrium `high_cm` is where the next begins, and not in.
    """

    chamber: str
    low_cm: int
    high_cm: int


CHAMBERS = ("before_ra", "ra", "rv", "rv_apex")
# domain 2c: whole cm at the hub, low and high of each chamber in turn.
BANDS: dict[tuple[str, str], tuple[tuple[int, int], ...]] = {
    ("neck", "right"): ((0, 15), (15, 22), (25, 35), (30, 40)),
    ("neck", "left"): ((0, 20), (20, 27), (30, 40), (35, 45)),
    ("subclavian", "right"): ((0, 10), (10, 22), (20, 35), (28, 40)),
    ("subclavian", "left"): ((0, 10), (10, 25), (22, 37), (30, 42)),
    ("femoral", "right"): ((0, 30), (30, 40), (40, 50), (45, 60)),
    ("femoral", "left"): ((0, 30), (30, 40), (40, 50), (45, 60)),
    ("arm", "right"): ((0, 40), (40, 50), (50, 60), (55, 65)),
    ("arm", "left"): ((0, 50), (50, 60), (60, 70), (65, 75)),
}


def bands_for(site: str, side: str, is_adult: bool) -> tuple[Band, ...]:
    """Return the bands of a site and side in depth; a child has none.

    `site`: neck, subclavian, femoral, arm; `side`: right, left (see `sites`).
    """
    told = BANDS.get((site, side), ()) if is_adult else ()
    return tuple(
        Band(chamber, *ends) for chamber, ends in zip(CHAMBERS, told, strict=False)
    )


def is_within(
    bands: tuple[Band, ...], chambers: tuple[str, ...], depth: Fraction
) -> bool:
    """Tell whether a depth lies in a band of one of these chambers."""
    return any(
        band.low_cm <= depth <= band.high_cm
        and not (band.chamber == "before_ra" and depth == band.high_cm)
        for band in bands
        if band.chamber in chambers
    )
