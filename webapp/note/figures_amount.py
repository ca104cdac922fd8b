"""A quantity as a number and its unit, with the decimals it was given with."""

from __future__ import annotations

from typing import Any

from webapp.catalogue.units import shown_unit
from webapp.catalogue.words import number_words


def amount_of(value: Any) -> tuple[str, str]:
    """Return a quantity as (number, unit) in print, or (its words, "")."""
    if not isinstance(value, dict) or "special" in value:
        return "", ""
    unit = shown_unit(str(value.get("unit", "")))
    if "low" in value:
        return f"{number_words(value['low'])}–{number_words(value['high'])}", unit
    if "n" not in value:
        return "", ""
    signs = {">": "> ", "<": "< ", ">=": "≥ ", "<=": "≤ "}
    as_typed = _as_typed(value)
    return signs.get(value.get("cmp", ""), "") + as_typed, unit


def _as_typed(value: dict[str, Any]) -> str:
    """Return the number with the decimals it was given with: 2.0 stays 2.0."""
    given = str(value.get("as", "")).strip().replace(",", ".")
    number = number_words(value["n"])
    whole, _, part = given.partition(".")
    is_same = whole.isdecimal() and part.isdecimal()
    if is_same and given.rstrip("0").rstrip(".") == value["n"]:
        return given
    return number
