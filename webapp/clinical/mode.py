"""Pacing modes in NBG letters, read and explained by position.

Source: NBG code, revised 2002, Bernstein et al., PACE 2002;25:260 (domain 8c).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

# The letters of each position. It is the letter O, never a zero.
LETTERS = ("OAVDS", "OAVDS", "OTID", "OR", "OAVD")
_LEAST = 3


@dataclass(frozen=True, slots=True)
class Mode:
    """`letters`: all five positions; "" for a fourth or fifth that was not said."""

    letters: tuple[str, str, str, str, str]

    @property
    def code(self) -> str:
        """Return the letters as said: "VVI"."""
        return "".join(self.letters)

    @property
    def is_asynchronous(self) -> bool:
        """Tell whether it paces without sensing: VOO, AOO, DOO."""
        return self.letters[0] != "O" and self.letters[1] == "O"

    @property
    def wants_atrial_wire(self) -> bool:
        """Tell whether it paces or senses the atrium."""
        return any(letter in "AD" for letter in self.letters[:2])


def mode_of(value: Any) -> Mode | None:
    """Return a mode from "vvi", "VVIRO" or {"other": "DDDR"}, or None when it is none.

    The first three positions are always given; the fourth and fifth may be left out.
    """
    told = value.get("other") if isinstance(value, dict) else value
    if not isinstance(told, str) or not re.fullmatch(r" *[A-Za-z]{3,5} *", told):
        return None
    said = told.strip().upper()
    pairs = zip(said, LETTERS, strict=False)
    if len(said) < _LEAST or any(letter not in known for letter, known in pairs):
        return None
    a, b, c, d, e = [*said, "", ""][: len(LETTERS)]
    return Mode((a, b, c, d, e))


def mode_words(mode: Mode, words: Mapping[str, str]) -> list[str]:
    """Return what each of the five positions says. `words`: user texts by key."""
    return [
        words[f"clinical.mode.{n}.{letter}"]
        for n, letter in enumerate(mode.letters, start=1)
    ]
