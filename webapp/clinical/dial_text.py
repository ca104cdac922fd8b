"""A generator's step table as a person writes it: "0.1 to 5 by 0.1, 5 to 20 by 0.5"."""

from __future__ import annotations

import re

_NUMBER = r"([0-9]{1,4}(?:[.,][0-9]{1,4})?)"
_UNIT = r"(?: ?(?:mA|mV|V))?"
_SEGMENT = re.compile(
    rf" *{_NUMBER}{_UNIT} *(?:to|-|–) *{_NUMBER}{_UNIT}"
    rf" *(?:by|step|in steps of) *{_NUMBER}{_UNIT} *(?:[,;\n]|$)"
)
# A limit of ours: no printed table is longer.
LONGEST = 400


def segments(text: object) -> list[dict[str, str]] | None:
    """Return [{"from", "to", "step"}, ...], or None when any of it was not read.

    Half a table would be worse than none, so nothing is skipped. Comma and point
    both separate decimals.
    """
    if not isinstance(text, str) or not text.strip(" \n") or len(text) > LONGEST:
        return None
    found: list[dict[str, str]] = []
    at = 0
    while at < len(text):
        match = _SEGMENT.match(text, at)
        if match is None:
            return None
        low, high, step = (number.replace(",", ".") for number in match.groups())
        found.append({"from": low, "to": high, "step": step})
        at = match.end()
    return found
