"""Headings that stay with what follows and stand in the file's outline."""

from __future__ import annotations

from typing import Any

from reportlab.lib.styles import ParagraphStyle

from webapp.note.faces import BOLD
from webapp.note.ink import RULE_PT, TEXT
from webapp.note.para import Para
from webapp.note.text import markup, one_line

# A heading this near the paper's edge stands right under the header's rule.
TOP_PT = 78.0


class Title(Para):
    """A heading; one of a part has a rule above it and an outline entry."""

    def __init__(self, words: str, style: ParagraphStyle, in_outline: bool) -> None:
        super().__init__(f'<font name="{BOLD}">{markup(words)}</font>', style)
        self.words = words
        self.in_outline = in_outline
        self.keepWithNext = True
        self.is_at_top = False

    def draw(self) -> None:
        if self.in_outline:
            canvas: Any = self.canv
            key = one_line(self.words)
            canvas.bookmarkPage(key)
            canvas.begins(key)
            canvas.addOutlineEntry(key, key, level=0)
            if not self.is_at_top:
                canvas.setStrokeColor(TEXT)
                canvas.setLineWidth(RULE_PT)
                canvas.line(0, self.height + 3, self.width, self.height + 3)
        super().draw()

    def drawOn(self, canvas: Any, x: float, y: float, _sW: float = 0) -> None:
        """Note whether the page's own rule already stands above, then draw."""
        self.is_at_top = y + self.height > canvas._pagesize[1] - TOP_PT
        super().drawOn(canvas, x, y)
