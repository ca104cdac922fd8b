"""Draw a number so that its point cannot be lost.

From 22.5 pt (30 px) up the decimals are 72 % high and underlined, and the point is
a square with its own space; below that size they stay full size.
"""

from __future__ import annotations

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas

from webapp.note.faces import BOLD, width_pt

SHAPED_FROM_PT = 22.5
DECIMALS = 0.72
POINT = 0.13
POINT_SPACE = 0.05
UNDERLINE_DROP = 0.085
UNDERLINE_PT = 0.045


def is_shaped(text: str, size_pt: float) -> bool:
    """Return whether this text has decimals large enough to be given a shape."""
    whole, point, part = text.partition(".")
    return (
        size_pt >= SHAPED_FROM_PT
        and bool(point)
        and whole.lstrip("-").isdecimal()
        and part.isdecimal()
    )


def number_width_pt(text: str, size_pt: float) -> float:
    """Return the width `draw_number` will take, in points."""
    if not is_shaped(text, size_pt):
        return width_pt(text, BOLD, size_pt)
    whole, _, part = text.partition(".")
    return (
        width_pt(whole, BOLD, size_pt)
        + size_pt * (POINT + 2 * POINT_SPACE)
        + width_pt(part, BOLD, size_pt * DECIMALS)
    )


def draw_number(
    canvas: Canvas, x: float, y: float, text: str, size_pt: float, colour: Color
) -> float:
    """Draw a number on its baseline; return the x where it ends, in points.

    The square point is ink; a "." is set with it unseen, so that text taken out of
    the page still reads 1.2 and never 12.
    """
    canvas.setFillColor(colour)
    if not is_shaped(text, size_pt):
        canvas.setFont(BOLD, size_pt)
        canvas.drawString(x, y, text)
        return x + width_pt(text, BOLD, size_pt)
    whole, _, part = text.partition(".")
    canvas.setFont(BOLD, size_pt)
    canvas.drawString(x, y, whole)
    x += width_pt(whole, BOLD, size_pt) + size_pt * POINT_SPACE
    canvas.drawString(x - size_pt * POINT_SPACE / 2, y, ".", mode=3)
    canvas.rect(x, y, size_pt * POINT, size_pt * POINT, stroke=0, fill=1)
    x += size_pt * (POINT + POINT_SPACE)
    canvas.setFont(BOLD, size_pt * DECIMALS)
    canvas.drawString(x, y, part)
    end = x + width_pt(part, BOLD, size_pt * DECIMALS)
    canvas.rect(
        x, y - size_pt * UNDERLINE_DROP, end - x, size_pt * UNDERLINE_PT,
        stroke=0, fill=1,
    )  # fmt: skip
    return end
