"""Set blocks as flowables: labelled lines, rows as tables, drawings."""

from __future__ import annotations

from collections.abc import Iterable

from reportlab.platypus import Flowable, KeepTogether

from webapp.note.blocks import (
    Block,
    Heading,
    Laid,
    Line,
    Photo,
    Prose,
    Rows,
    Sketch,
    Tested,
    Weighed,
)
from webapp.note.heading import Title
from webapp.note.line_setting import set_lines
from webapp.note.long_text import flowing
from webapp.note.photo_setting import set_photo
from webapp.note.remark_setting import set_weighed
from webapp.note.row_setting import set_rows
from webapp.note.ruler import DepthRuler
from webapp.note.sketch import HandDrawing
from webapp.note.step_down import step_downs
from webapp.note.styles import (
    BODY,
    CAPTION,
    LABEL,
    PART,
    QUIET_BODY,
    SECTION,
    WHO,
    plain,
)  # fmt: skip

RULER_WIDTH_PT, RULER_HEIGHT_PT = 190.0, 330.0


def set_blocks(blocks: Iterable[Block], width: float) -> list[Flowable]:
    """Return flowables for a run of blocks; neighbouring lines are set together."""
    out: list[Flowable] = []
    lines: list[Line] = []
    for block in blocks:
        if isinstance(block, Line):
            lines.append(block)
            continue
        out += [*set_lines(lines, width), *_set(block, width)]
        lines = []
    return out + set_lines(lines, width)


def _set(block: Block, width: float) -> list[Flowable]:
    match block:
        case Heading():
            is_part = block.level == 1
            return [Title(block.words, PART if is_part else SECTION, is_part)]
        case Rows():
            return set_rows(block, width)
        case Line():
            return set_lines([block], width)
        case Prose():
            return flowing(block.words, QUIET_BODY if block.quiet else BODY)
        case Sketch():
            drawn = HandDrawing(block.drawing)
            label = plain(block.label, LABEL)
            return [KeepTogether([label, drawn, plain(block.who, WHO)])]
        case Photo():
            return set_photo(block, width)
        case Weighed():
            return set_weighed(block)
        case Tested():
            drawn_test = step_downs(block.marks, width)
            return [KeepTogether([plain(block.caption, CAPTION), *drawn_test])]
        case Laid():
            ruler = DepthRuler(block.lie, RULER_WIDTH_PT, RULER_HEIGHT_PT)
            return [KeepTogether([plain(block.caption, CAPTION), ruler])]
