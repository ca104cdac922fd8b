"""Typed text that reads its own way and leaves what stands beside it in place.

Letters written from right to left, and signs that turn the reading order, reach over
the words beside them: a name ending in one could carry the next label to its other
side. Unicode's own isolates keep them in, in any element, attribute or drawing.
Twin: static/js/form/apart.js, held equal by fixtures/vectors/apart.json.
"""

from __future__ import annotations

import re

_OPENS, _CLOSES = "\u2068", "\u2069"
_STARTS = "\u2066\u2067\u2068"
# Scripts written from right to left, their marks, and the signs that turn an order.
_TURNS = re.compile(
    "[\u0590-\u08ff\u200f\u202a-\u202e\u2066-\u2069\ufb1d-\ufdff\ufe70-\ufefc"
    "\U00010800-\U00010fff\U0001e800-\U0001efff]"
)
# An isolate ends where a paragraph does: each line is kept apart by itself.
_LINE_ENDS = re.compile("(\r\n|[\n\r\u0085\u2029])")


def apart(text: str) -> str:
    """Return `text` as it is shown beside other words: each sign still as typed.

    Text that turns nothing comes back as it is. Else every line is put between a
    first-strong isolate and its end; isolates that the text ends without having begun,
    or begins without ending, are completed, so that it cannot get out of its own.
    """
    if text.isascii() or not _TURNS.search(text):
        return text
    # The odd parts are the line ends.
    parts = _LINE_ENDS.split(text)
    return "".join(p if n % 2 else _line(p) for n, p in enumerate(parts))


def _line(line: str) -> str:
    if not _TURNS.search(line):
        return line
    unended = unbegun = 0
    for sign in line:
        if sign in _STARTS:
            unended += 1
        elif sign == _CLOSES and unended:
            unended -= 1
        elif sign == _CLOSES:
            unbegun += 1
    return _OPENS * (unbegun + 1) + line + _CLOSES * (unended + 1)
