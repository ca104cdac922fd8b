"""What is found about how deep a wire lies.

Source: fixtures/sources.md#clinical-3. Depth alone never proves a place.
"""

from __future__ import annotations

from webapp.clinical.bands import bands_for, is_within
from webapp.clinical.coil import coil, rings_disagree
from webapp.clinical.deep import deep, deep_limit_key, resistance, still_lies
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.remarks import Remark
from webapp.clinical.sites import site_code, site_side
from webapp.clinical.told import Told
from webapp.clinical.way import Look, looks_of, when


def depth_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on its depths."""
    return [
        found
        for wire in told.wires
        for part in (resistance, deep, coil, rings_disagree, fits)
        for found in part(told, wire)
    ]


def fits(told: Told, wire: str) -> list[Found]:
    """Say that the last depth lies in the band of the chamber it showed."""
    looks = looks_of(told.fold, wire)
    if not looks or looks[-1].depth is None:
        return []
    look = looks[-1]
    depth = look.depth
    site, side = site_side(site_code(told.fold, wire))
    bands = bands_for(site, side, told.age.is_adult)
    limit = number(told.limits.get(deep_limit_key(site, side)))
    if depth is None or not is_within(bands, _bands_of(look, site), depth):
        return []
    if limit is not None and depth >= limit:
        return []
    if not still_lies(told, wire, when(look.row)):
        return []
    remark = Remark("depth_fits", "fits")
    return [Found(remark, look.row.path, wire, (look.row.id,))]


def _bands_of(look: Look, site: str) -> tuple[str, ...]:
    """Return the bands in which a result is expected."""
    if look.result == "above_rv":
        return ("before_ra", "ra")
    if look.chamber == "rv":
        return ("rv_apex",) if look.result == "rv_apex" else ("rv", "rv_apex")
    entry = "ivc" if site == "femoral" else "svc"
    return ("before_ra",) if look.chamber == entry else (look.chamber,)
