"""Page templates: page 1 with its ruler, then pages of running parts."""

from __future__ import annotations

import io
from collections.abc import Callable

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    ActionFlowable,
    BaseDocTemplate,
    Flowable,
    Frame,
    PageTemplate,
)

from webapp.note.ink import MARGIN_PT
from webapp.note.page_one import (
    COLUMN_GAP_PT,
    RULER_WIDTH_PT,
    draw_ruler,
    draw_top,
)
from webapp.note.running import (
    FOOT_PT,
    Running,
    draw_footer,
    draw_header,
    header_height,
)
from webapp.note.summary import Summary
from webapp.say import say

PAPERS = {"A4": A4, "Letter": LETTER}
FIRST, LATER = "first", "later"
BELOW_FRAME_PT = FOOT_PT + 6


class LeavePageOne(ActionFlowable):
    """Turn to page 2, unless page 1's text already ran over to it."""

    def apply(self, doc: BaseDocTemplate) -> None:
        if doc.page == 1:
            doc.handle_pageBreak()


def page_one_widths(running: Running, told: Summary) -> float:
    """Return the width of page 1's text column, in points."""
    if not told.wires:
        return running.width
    return running.width - RULER_WIDTH_PT - COLUMN_GAP_PT


def typeset(
    story: list[Flowable],
    running: Running,
    told: Summary,
    top: float,
    maker: Callable[..., Canvas],
) -> bytes:
    """Return the PDF. `top`: the y below page 1's numbers (see `measured_top`)."""
    pages = [_first(running, told, top), _later(running)]
    return _built(story, running, pages, maker, "note")


def typeset_added(
    story: list[Flowable], running: Running, maker: Callable[..., Canvas]
) -> bytes:
    """Return the PDF of what is added after signing: every page is a later page."""
    return _built(story, running, [_later(running)], maker, "added")


def _built(
    story: list[Flowable],
    running: Running,
    pages: list[PageTemplate],
    maker: Callable[..., Canvas],
    kind: str,
) -> bytes:
    out = io.BytesIO()
    document = BaseDocTemplate(
        out,
        pagesize=running.page_size,
        title=say(f"{kind}.file_title"),
        author=say("note.file_author"),
        subject=say(f"{kind}.file_subject"),
        creator=say("note.file_author"),
        pageTemplates=pages,
    )
    document.build(story, canvasmaker=maker)
    return out.getvalue()


def measured_top(
    running: Running, told: Summary, maker: Callable[..., Canvas]
) -> float:
    """Return the y below page 1's numbers, by drawing them once to nowhere."""
    return draw_top(maker(io.BytesIO(), pagesize=running.page_size), running, told)


def _first(running: Running, told: Summary, top: float) -> PageTemplate:
    def draw(canvas: Canvas, document: object) -> None:
        draw_top(canvas, running, told)
        if told.wires:
            draw_ruler(canvas, told, top)
        draw_footer(canvas, running)

    width = page_one_widths(running, told)
    left = running.page_size[0] - MARGIN_PT - width
    frame = Frame(
        left, BELOW_FRAME_PT, width, top - BELOW_FRAME_PT,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    return PageTemplate(FIRST, [frame], onPage=draw, autoNextPageTemplate=LATER)


def _later(running: Running) -> PageTemplate:
    def draw(canvas: Canvas, document: object) -> None:
        draw_header(canvas, running)
        draw_footer(canvas, running)

    height = running.page_size[1] - header_height(running) - BELOW_FRAME_PT
    frame = Frame(
        MARGIN_PT, BELOW_FRAME_PT, running.width, height,
        leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0,
    )  # fmt: skip
    return PageTemplate(LATER, [frame], onPage=draw)
