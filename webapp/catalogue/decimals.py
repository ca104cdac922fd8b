"""Exact decimals as text: canonical form, and as fractions for comparing."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

# Fifteen digits on either side of the point: far beyond any bedside number, and a
# bound on what a hostile text can make us compute with.
_CANONICAL = re.compile(
    r"-?(?:0|[1-9][0-9]{0,14})\.[0-9]{0,14}[1-9]|-?[1-9][0-9]{0,14}|0"
)
_TYPED = re.compile(r"([+-]?)(?:([0-9]{1,15})(?:[.,]([0-9]{1,15}))?|[.,]([0-9]{1,15}))")
# "1,250" is 1.25 to one reader and 1250 to the next; nobody may guess which.
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")


def canonical(text: str) -> str | None:
    """Return a typed decimal in its one form, or None when it is not one.

    Comma and point both separate decimals: "1,5", "+1.50", ".8" give "1.5", "1.5",
    "0.8". Not read: "1e3", "1_0", "5.", "1.000,5", "1 000", and "1,250" (a comma
    before exactly three digits may group thousands).
    """
    match = _TYPED.fullmatch(text)
    if match is None or _THOUSANDS.fullmatch(text):
        return None
    whole = (match[2] or "0").lstrip("0") or "0"
    part = (match[3] or match[4] or "").rstrip("0")
    number = f"{whole}.{part}" if part else whole
    return f"-{number}" if match[1] == "-" and number != "0" else number


def is_canonical(text: object) -> bool:
    """Tell whether `text` is a decimal in its one form: no exponent, no "-0"."""
    return isinstance(text, str) and _CANONICAL.fullmatch(text) is not None


def exact(number: str) -> Fraction:
    """Return a canonical decimal as a fraction."""
    return Fraction(number)


def decimal(number: str) -> Decimal:
    """Return a canonical decimal for comparing: exact too, and much the quicker."""
    return Decimal(number)


@lru_cache(maxsize=2000)
def limit(number: str) -> Decimal:
    """Return a limit of the catalogue as `decimal` does, worked out once."""
    return Decimal(number)


def is_multiple(number: str, step: str) -> bool:
    """Tell whether a canonical decimal is a whole number of canonical steps."""
    places = len(step.partition(".")[2])
    scaled = _scaled(number, places)
    return scaled is not None and scaled % int(step.replace(".", "")) == 0


def _scaled(number: str, places: int) -> int | None:
    """Return `number` times ten to the power `places`; None when it is not whole."""
    whole, _, part = number.partition(".")
    return int(whole + part.ljust(places, "0")) if len(part) <= places else None
