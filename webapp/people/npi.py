"""The check digit of a United States National Provider Identifier."""

from __future__ import annotations

ISSUER_PREFIX = "80840"


def is_npi(text: str) -> bool:
    """Return whether `text` is ten digits whose Luhn sum, prefix included, is whole.

    Source: CMS, Requirements for National Provider Identifier (NPI) and NPI Check
    Digit: Luhn (ISO/IEC 7812) over 80840 and the number.
    """
    if len(text) != 10 or not (text.isascii() and text.isdigit()):
        return False
    return _luhn_sum(ISSUER_PREFIX + text) % 10 == 0


def _luhn_sum(digits: str) -> int:
    total = 0
    for place, digit in enumerate(reversed(digits)):
        value = int(digit) * (2 if place % 2 else 1)
        total += value // 10 + value % 10
    return total
