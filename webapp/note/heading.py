"""Headings that stay with what follows and stand in the file's outline."""

from __future__ import annotations

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph

from webapp.note.faces import BOLD
from webapp.note.ink import RULE_PT, TEXT
from webapp.note.text import markup, one_line


class Title(Paragraph):
    """A heading; one of a part has a rule above it and an outline entry."""

    def __init__(self, words: str, style: ParagraphStyle, in_outline: bool) -> None:
        super().__init__(f'<font name="{BOLD}">{markup(words)}</font>', style)
        self.words = words
        self.in_outline = in_outline
        self.keepWithNext = True

    def draw(self) -> None:
        if self.in_outline:
            canvas = self.canv
            key = f"p{canvas.getPageNumber()}-{len(canvas._outlines)}"
            canvas.bookmarkPage(key)
            canvas.addOutlineEntry(one_line(self.words), key, level=0)
            canvas.setStrokeColor(TEXT)
            canvas.setLineWidth(RULE_PT)
            canvas.line(0, self.height + 3, self.width, self.height + 3)
        super().draw()
