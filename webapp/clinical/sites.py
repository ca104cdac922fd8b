"""The way in of a wire: which site and side its answer means.

Source: fixtures/sources.md#clinical-3.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.rows import one_answer

# Codes of the catalogue; what is not here has no bands and no limits (axillary too).
SITES: dict[str, tuple[str, str]] = {
    "internal_jugular_right": ("neck", "right"),
    "internal_jugular_left": ("neck", "left"),
    "subclavian_infraclavicular_right": ("subclavian", "right"),
    "subclavian_infraclavicular_left": ("subclavian", "left"),
    "subclavian_supraclavicular_right": ("subclavian", "right"),
    "subclavian_supraclavicular_left": ("subclavian", "left"),
    "femoral_right": ("femoral", "right"),
    "femoral_left": ("femoral", "left"),
    "arm_right": ("arm", "right"),
    "arm_left": ("arm", "left"),
}
_UPPER = ("internal_jugular_", "subclavian_", "axillary_", "arm_")


def site_side(code: object) -> tuple[str, str]:
    """Return site and side of a catalogue's code, "" and "" where none is known."""
    return SITES.get(code, ("", "")) if isinstance(code, str) else ("", "")


def site_code(fold: dict[str, Any], wire: str) -> str:
    """Return a wire's one answer to site and side, or ""."""
    told = one_answer(fold, f"wires/{wire}/approach.site")
    return told if isinstance(told, str) else ""


def is_upper(code: str) -> bool:
    """Tell whether a wire came in above the heart: neck, chest or arm."""
    return code.startswith(_UPPER)


def expected_order(site: str) -> tuple[str, ...]:
    """Return the chambers in the order they are expected in, or ().

    Source: fixtures/sources.md#clinical-4.
    """
    if site in ("neck", "subclavian", "arm"):
        return ("svc", "ra", "rv")
    return ("ivc", "ra", "rv") if site == "femoral" else ()
