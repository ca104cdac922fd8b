"""Quantities: from typed text to a value, and the shape of such a value."""

from __future__ import annotations

import re
from typing import Any

from webapp.catalogue.decimals import canonical, exact, is_canonical
from webapp.catalogue.model import Field
from webapp.catalogue.typed import LONGEST, ascii_lower, is_said, trim, western
from webapp.catalogue.units import split_unit

_WORDS = {
    "maximum": "maximum",
    "max": "maximum",
    "max.": "maximum",
    "low": "low",
    "low, no figure": "low",
    "high": "high",
    "high, no figure": "high",
    "minimal": "minimal",
}
SPECIALS = tuple(sorted(set(_WORDS.values())))
_COMPARATORS = {"≥": ">=", "≤": "<=", ">=": ">=", "<=": "<=", ">": ">", "<": "<"}
_COMPARED = re.compile(r"(>=|<=|[<>≥≤])(.*)", re.DOTALL)
_BETWEEN = re.compile(r"[-–—]|to")
_SHAPES = (
    frozenset(("as", "n", "unit")),
    frozenset(("as", "low", "high", "unit")),
    frozenset(("as", "cmp", "n", "unit")),
    frozenset(("as", "special", "unit")),
    frozenset(("as", "unit")),
)


def read_quantity(field: Field, raw: str, unit: str | None) -> dict[str, Any]:
    """Return the value that typed text gives; unreadable text is kept as typed.

    `unit`: the unit said beside the number; None: the field's only unit, or "" (not
    said) where it has several. A unit typed behind the number counts too, if it is
    one of the field's; one that contradicts `unit` makes the whole unreadable.
    """
    said = unit if unit is not None else (field.unit if len(field.units) == 1 else "")
    text = western(raw)
    figure = _figure(text)
    if figure is None:
        body, typed = split_unit(text, field.units)
        if typed is not None and said in ("", typed):
            figure, said = _figure(trim(body)), typed
    return {"as": raw, **(figure or {}), "unit": said}


def _figure(text: str) -> dict[str, str] | None:
    if len(text) > LONGEST:
        return None
    word = _WORDS.get(ascii_lower(text))
    if word is not None:
        return {"special": word}
    number = canonical(text)
    if number is not None:
        return {"n": number}
    return _compared(text) or _range(text)


def _compared(text: str) -> dict[str, str] | None:
    match = _COMPARED.fullmatch(text)
    number = canonical(trim(match[2])) if match else None
    if match is None or number is None:
        return None
    return {"cmp": _COMPARATORS[match[1]], "n": number}


def _range(text: str) -> dict[str, str] | None:
    """Read "20-30", "20 – 30", "-30 to 10"; never one whose low end is higher.

    "140-90" in a box for one pressure is two pressures, not a range.
    """
    for match in _BETWEEN.finditer(text, 1):
        low = canonical(trim(text[: match.start()]))
        high = canonical(trim(text[match.end() :]))
        if low is not None and high is not None:
            return {"low": low, "high": high} if exact(low) <= exact(high) else None
    return None


def is_quantity(value: object) -> bool:
    """Tell whether `value` has one of the five shapes of a quantity."""
    if not isinstance(value, dict) or frozenset(value) not in _SHAPES:
        return False
    if not is_said(value["as"]) or not isinstance(value["unit"], str):
        return False
    if not all(map(is_canonical, figures(value))):
        return False
    if value.get("special", "low") not in SPECIALS:
        return False
    if value.get("cmp", ">") not in _COMPARATORS.values():
        return False
    return "low" not in value or exact(value["low"]) <= exact(value["high"])


def figures(value: dict[str, Any]) -> tuple[str, ...]:
    """Return the decimals of a quantity: one, both ends of a range, or none."""
    if "n" in value:
        return (value["n"],)
    return (value["low"], value["high"]) if "low" in value else ()
