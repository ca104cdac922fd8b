"""Running text of any length: set in pieces, so that each is broken only once."""

from __future__ import annotations

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Spacer

from webapp.note.styles import plain
from webapp.note.text import printable

PIECE_LETTERS = 3000


def flowing(words: str, style: ParagraphStyle) -> list[Flowable]:
    """Return paragraphs that flow over pages; blank lines and line ends are kept."""
    out: list[Flowable] = []
    for line in printable(words).split("\n"):
        if not line:
            out.append(Spacer(1, style.leading * 0.6))
        out += [plain(piece, style) for piece in pieces(line)]
    return out


def pieces(line: str) -> list[str]:
    """Return a line in pieces of about 3,000 letters, cut at spaces where it can be.

    A piece is broken into lines each time a page ends within it: whole texts of
    20,000 words would be broken dozens of times.
    """
    found = []
    while len(line) > PIECE_LETTERS:
        at = line.rfind(" ", PIECE_LETTERS // 2, PIECE_LETTERS)
        cut = at + 1 if at >= 0 else PIECE_LETTERS
        found.append(line[:cut].rstrip(" "))
        line = line[cut:]
    return [*found, line] if line else found
