"""Paragraph styles of the note: one typeface, few sizes."""

from __future__ import annotations

from typing import Literal

from reportlab.lib.colors import Color
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from webapp.note.faces import BOLD, REGULAR
from webapp.note.ink import QUIET, TEXT
from webapp.note.para import Para
from webapp.note.text import markup


def _style(
    name: str,
    size_pt: float,
    lead_pt: float,
    face: str = REGULAR,
    colour: Color = TEXT,
    before_pt: float = 0,
    after_pt: float = 0,
    alignment: Literal[0, 2] = TA_LEFT,
    indent_pt: float = 0,
) -> ParagraphStyle:
    return ParagraphStyle(
        name,
        fontName=face,
        fontSize=size_pt,
        leading=lead_pt,
        textColor=colour,
        spaceBefore=before_pt,
        spaceAfter=after_pt,
        alignment=alignment,
        leftIndent=indent_pt,
        splitLongWords=1,
        allowWidows=0,
        allowOrphans=0,
        uriWasteReduce=0,
    )


NAME = _style("name", 18, 21, BOLD)
DETAILS = _style("details", 10, 13)
TITLE = _style("title", 13, 16, BOLD)
PART = _style("part", 14, 17, BOLD, before_pt=14, after_pt=3)
SECTION = _style("section", 10.5, 13, BOLD, before_pt=8, after_pt=2)
CAPTION = _style("caption", 9.5, 12, BOLD, before_pt=6, after_pt=2)
BODY = _style("body", 9.5, 12.5)
BODY_BOLD = _style("body-bold", 9.5, 12.5, BOLD)
LABEL = _style("label", 9.5, 12.5, colour=QUIET)
WHO = _style("who", 7.5, 10, colour=QUIET, alignment=TA_RIGHT)
CELL = _style("cell", 9, 11.5)
COLUMN = _style("column", 8, 10, colour=QUIET)
QUIET_BODY = _style("quiet-body", 8.5, 11, colour=QUIET)
STATE = _style("state", 9.8, 12.2)
STATE_LABEL = _style("state-label", 9.8, 12.2, colour=QUIET)
HEAD_3 = _style("head-3", 10.5, 12.8, BOLD, before_pt=5, after_pt=0.5)
REMARK_INDENT_PT = 16.0
REMARK = _style("remark", 9.5, 12.5, before_pt=5, indent_pt=REMARK_INDENT_PT)
REMARK_TOLD = _style("remark-told", 9.5, 12.5, indent_pt=REMARK_INDENT_PT)
REMARK_SOURCE = _style(
    "remark-source", 8.5, 11, colour=QUIET, indent_pt=REMARK_INDENT_PT
)
REMARK_LINE = _style("remark-line", 9.8, 12.6, indent_pt=REMARK_INDENT_PT)


def plain(words: str, style: ParagraphStyle) -> Para:
    """Return a paragraph of text that came from outside, set as it was typed."""
    return Para(markup(words) or "&#160;", style)


def marked(words: str, style: ParagraphStyle) -> Para:
    """Return a paragraph of markup made here from escaped pieces."""
    return Para(words, style)
