"""Set text exactly as it was typed, or say in words that it cannot be set.

A letter without a glyph is never a silent box: its code points are named, and the
exact text lies in the JSON attached to the note.
"""

from __future__ import annotations

import re
import unicodedata
from html import escape

from webapp.note.faces import glyphs
from webapp.say import say

NAMED_AT_MOST = 8
_LINE_ENDS = re.compile("\r\n|[\n\r\u000b\u000c\u0085\u2028\u2029]")
_GAPS = re.compile(" {2,}")


def can_print(letter: str) -> bool:
    """Return whether the typeface draws this letter, and draws it visibly.

    Format characters (joiners, direction marks) have no ink and change what is
    read around them, so they count as not printable.
    """
    if letter == "\n":
        return True
    return ord(letter) in glyphs() and unicodedata.category(letter) not in ("Cc", "Cf")


def is_printable(text: str) -> bool:
    """Return whether every letter of the text prints as itself."""
    return all(map(can_print, _lines(text)))


def printable(text: str) -> str:
    """Return the text with every run that has no glyph named by its code points.

    `"山 x"` gives "[not printable here: U+5C71] x". Line ends become "\\n".
    """
    if text.isascii() and text.isprintable():
        return text
    told: list[str] = []
    hidden: list[str] = []
    for letter in _lines(text):
        if can_print(letter):
            told += _named(hidden)
            hidden = []
            told.append(letter)
        else:
            hidden.append(letter)
    return "".join(told + _named(hidden))


def one_line(text: str) -> str:
    """Return the printable text with line ends as spaces, for headers."""
    return printable(text).replace("\n", " ").replace("\u00a0", " ").strip()


def markup(text: str) -> str:
    """Return the text for a paragraph: escaped, lines and gaps kept as typed."""
    kept = _GAPS.sub(lambda m: " " + "\u00a0" * (len(m[0]) - 1), printable(text))
    return escape(kept, quote=False).replace("\n", "<br/>")


def _lines(text: str) -> str:
    composed = unicodedata.normalize("NFC", text)
    return _LINE_ENDS.sub("\n", composed).replace("\t", "    ")


def _named(hidden: list[str]) -> list[str]:
    if not hidden:
        return []
    codes = " ".join(f"U+{ord(c):04X}" for c in hidden[:NAMED_AT_MOST])
    more = len(hidden) - NAMED_AT_MOST
    if more > 0:
        return [say("note.not_printable_more", codes=codes, n=more)]
    return [say("note.not_printable", codes=codes)]
