"""Plain calls of kit, depth, patterns and balloon, for vectors.

`tests/js/clinical_way.mjs` has the same names.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from webapp.clinical.atrium_tick import atrium_tick_cm, tick_formula
from webapp.clinical.bands import bands_for
from webapp.clinical.coil import depth_by_rings
from webapp.clinical.exact import decimal
from webapp.clinical.guidance import results_for, st_mv
from webapp.clinical.kit import kit_fit, outer_diameter_mm
from webapp.clinical.sites import expected_order, is_upper, site_side

Input = dict[str, Any]


def calls_way(
    limits_of: Callable[[Input], dict[str, str]],
) -> dict[str, Callable[[Input], Any]]:
    """Return the calls by name; `limits_of`: the limits an input is judged by."""
    return {
        "kit_fit": lambda g: kit_fit(g["sheath"], g["wire"], limits_of(g)),
        "outer_diameter": lambda g: outer_diameter_mm(g["fr"]),
        "bands_for": _bands,
        "atrium_tick": _tick,
        "site": lambda g: _site(g["code"]),
        "depth_by_rings": _rings,
        "results_for": lambda g: results_for(g["guide"], g["p_waves"]),
        "st_mv": lambda g: st_mv(g["mm"], g["gain"]),
    }


def _bands(given: Input) -> Any:
    found = bands_for(given["site"], given["side"], given.get("is_adult", True))
    return [asdict(band) for band in found]


def _tick(given: Input) -> Any:
    is_adult = given.get("is_adult", True)
    told = (given["height"], given["site"], given["side"], is_adult)
    return {"cm": atrium_tick_cm(*told), "formula": tick_formula(*told)}


def _site(code: Any) -> Any:
    site, side = site_side(code)
    told = {"site": site, "side": side, "order": expected_order(site)}
    return {**told, "is_upper": is_upper(code or "")}


def _rings(given: Input) -> Any:
    found = depth_by_rings(given["rings"], given["beyond"])
    return None if found is None else decimal(found)
