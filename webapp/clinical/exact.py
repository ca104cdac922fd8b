"""Exact numbers: from text to a fraction and back, never through binary digits."""

from __future__ import annotations

import re
from fractions import Fraction

# Fifteen figures on either side of the point: what a value of the record may hold.
_NUMBER = re.compile(r"-?[0-9]{1,15}(\.[0-9]{1,15})?")
_RATIO = re.compile(r"[0-9]{1,15}/[1-9][0-9]{0,14}")


class NotDecimal(ValueError):
    """A fraction such as 2/3 was to be written as a decimal."""


def number(text: object) -> Fraction | None:
    """Return a decimal such as "1.5" as a fraction, or None when it is none."""
    if not isinstance(text, str) or _NUMBER.fullmatch(text) is None:
        return None
    return Fraction(text)


def ratio(text: object) -> Fraction | None:
    """Return "2/3", or a decimal, as a fraction, or None when it is neither.

    Only a limit may be a ratio; what a person read from a dial never is.
    """
    if isinstance(text, str) and _RATIO.fullmatch(text):
        return Fraction(text)
    return number(text)


def decimal(value: Fraction) -> str:
    """Return a fraction as a decimal in its one form: "1.5", "2", "-0.25".

    Raises NotDecimal: when it has no end, as 2/3.
    """
    places = _places(value)
    figures = str(abs(value.numerator) * 10**places // value.denominator)
    figures = figures.rjust(places + 1, "0")
    whole = figures[: len(figures) - places]
    point = f".{figures[len(figures) - places :]}" if places else ""
    return f"{'-' if value < 0 else ''}{whole}{point}"


def _places(value: Fraction) -> int:
    places, rest = 0, value.denominator
    while rest % 10 == 0:
        places, rest = places + 1, rest // 10
    while rest % 2 == 0 or rest % 5 == 0:
        places, rest = places + 1, rest // (2 if rest % 2 == 0 else 5)
    if rest != 1:
        raise NotDecimal(f"{value} has no end as a decimal")
    return places
