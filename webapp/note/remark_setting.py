"""Set remarks: the sign of the weight before its words; on page 1 one line each."""

from __future__ import annotations

from typing import Any

from reportlab.platypus import Flowable, KeepTogether

from webapp.note.blocks import Weighed
from webapp.note.drawings import draw_weight
from webapp.note.faces import BOLD, REGULAR
from webapp.note.ink import TEXT
from webapp.note.long_text import PIECE_LETTERS, flowing
from webapp.note.para import Para
from webapp.note.remarks import FirstRemarks
from webapp.note.ruler import cut
from webapp.note.styles import (
    HEAD_3,
    REMARK,
    REMARK_INDENT_PT,
    REMARK_LINE,
    REMARK_SOURCE,
    REMARK_TOLD,
    plain,
)
from webapp.note.text import markup, one_line
from webapp.say import say

SIGN_PT = 8.6


class Signed(Para):
    """A paragraph with its remark's weight drawn before its first line."""

    weight = ""

    def draw(self) -> None:
        """Draw the sign, then the words."""
        own: Any = self
        if self.weight:
            base = own.height - own.style.fontSize
            draw_weight(self.canv, 1, base - 1.2, self.weight, SIGN_PT)
        super().draw()

    def split(self, aW: float, aH: float) -> list[Any]:
        """Split as any paragraph; the sign stays with the first piece."""
        parts: list[Any] = super().split(aW, aH)
        if parts:
            parts[0].weight = self.weight
        return parts


def signed(weight: str, words: str, style: Any) -> Signed:
    """Return words in bold with the sign of their weight."""
    made = Signed(f'<font name="{BOLD}">{markup(words)}</font>', style)
    made.weight = weight
    return made


def set_weighed(block: Weighed) -> list[Flowable]:
    """Return a remark's lines; together on a page unless somebody wrote at length."""
    out: list[Flowable] = [signed(block.weight, block.words, REMARK)]
    for words in block.told:
        out += flowing(words, REMARK_TOLD)
    if block.source:
        out.append(plain(block.source, REMARK_SOURCE))
    out[0].keepWithNext = 1
    is_long = sum(map(len, block.told)) > PIECE_LETTERS
    return out if is_long else [KeepTogether(out)]


def set_first(told: FirstRemarks, width: float) -> list[Flowable]:
    """Return page 1's lines of remarks, and where all of them stand in full."""
    if not told.lines:
        return []
    head = plain(say("note.remarks_not_answered"), HEAD_3)
    head.keepWithNext = 1
    room = width - REMARK_INDENT_PT
    size = REMARK_LINE.fontSize
    lines = [
        signed(weight, cut(one_line(words), size, room, BOLD), REMARK_LINE)
        for weight, words in told.lines
    ]
    return [head, *lines, OnPage(told.more)]


class OnPage(Flowable):
    """Says on which page the remarks stand: known only when all pages are set."""

    def __init__(self, more: int) -> None:
        super().__init__()
        self.more = more

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        """Take one line."""
        self.width, self.height = aW, REMARK_LINE.leading
        return aW, self.height

    def draw(self) -> None:
        """Leave the line to the end of the note."""
        canvas: Any = self.canv
        x, y = canvas.absolutePosition(REMARK_INDENT_PT, 3)
        canvas.at_end(lambda drawn: self._say(drawn, x, y))

    def _say(self, canvas: Any, x: float, y: float) -> None:
        page = canvas.page_of(say("note.remarks"))
        key = "note.remarks_more" if self.more else "note.remarks_in_full"
        canvas.setFillColor(TEXT)
        canvas.setFont(REGULAR, REMARK_LINE.fontSize)
        canvas.drawString(x, y, say(key, n=self.more, page=page))
