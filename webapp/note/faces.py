"""The one typeface of the note, embedded in every file."""

from __future__ import annotations

from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from webapp.paths import static_folder

REGULAR = "WiremarkSans"
BOLD = "WiremarkSans-Bold"
_FILES = {REGULAR: "wiremark-sans-regular.ttf", BOLD: "wiremark-sans-bold.ttf"}


@cache
def glyphs() -> frozenset[int]:
    """Register the typeface once a process; return the code points it can draw."""
    known: list[frozenset[int]] = []
    for name, file in _FILES.items():
        font = TTFont(name, str(static_folder() / "fonts" / file))
        pdfmetrics.registerFont(font)
        known.append(frozenset(font.face.charToGlyph))
    pdfmetrics.registerFontFamily(
        REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD
    )
    return frozenset.intersection(*known)


def width_pt(text: str, face: str, size_pt: float) -> float:
    """Return how wide a line of text is set, in points."""
    glyphs()
    return float(pdfmetrics.stringWidth(text, face, size_pt))
