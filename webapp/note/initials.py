"""Initials for the people of one record, so that every line can name its author."""

from __future__ import annotations

from typing import Any

from webapp.note.text import is_printable
from webapp.note.times import name_of
from webapp.say import say

LONGEST = 3


def initials_of(fold: dict[str, Any]) -> dict[str, str]:
    """Return name -> initials, no two alike, in the order the names first occur.

    Names without a printable first letter, and an author nobody named, get a number.
    """
    found: dict[str, str] = {}
    for entry_id in fold["order"]:
        meta = fold["entries"][entry_id]
        for role in ("author", "entered_by", "called_by"):
            name = name_of(meta[role])
            if name and name not in found:
                found[name] = _free(_initials(name), found)
    return found


def _initials(name: str) -> str:
    """Return up to three first letters, the last word's among them."""
    letters = [next((c for c in w if c.isalpha()), "") for w in name.split()]
    firsts = [c.upper() for c in letters if c and is_printable(c)]
    if len(firsts) > LONGEST:
        firsts = [*firsts[: LONGEST - 1], firsts[-1]]
    return "".join(firsts) or say("note.person")


def _free(wanted: str, taken: dict[str, str]) -> str:
    """Return the initials, numbered from 2 when somebody else has them already."""
    used = set(taken.values())
    if wanted not in used:
        return wanted
    number = 2
    while f"{wanted}{number}" in used:
        number += 1
    return f"{wanted}{number}"
