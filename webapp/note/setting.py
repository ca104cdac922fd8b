"""Set blocks as flowables: labelled lines, rows as tables, drawings."""

from __future__ import annotations

from collections.abc import Iterable

from reportlab.platypus import Flowable, KeepTogether, Paragraph, Table, TableStyle

from webapp.note.blocks import (
    Block, Heading, Laid, Line, Prose, Rows, Said, Sketch, Tested,
)  # fmt: skip
from webapp.note.heading import Title
from webapp.note.ink import EDGE, HAIR_PT
from webapp.note.long_text import flowing
from webapp.note.row_setting import set_rows
from webapp.note.ruler import DepthRuler
from webapp.note.sketch import HandDrawing
from webapp.note.step_down import step_downs
from webapp.note.styles import (
    BODY, CAPTION, LABEL, PART, QUIET_BODY, SECTION, WHO, marked, plain,
)  # fmt: skip
from webapp.note.text import markup
from webapp.say import say

LABEL_SHARE, SAID_SHARE = 0.27, 0.5
LONG_LETTERS = 900
RULER_WIDTH_PT, RULER_HEIGHT_PT = 190.0, 330.0
LINES_STYLE = TableStyle(
    [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 6),
        ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.2),
        ("LINEBELOW", (0, 0), (-1, -1), HAIR_PT / 2, EDGE),
    ]
)


def set_blocks(blocks: Iterable[Block], width: float) -> list[Flowable]:
    """Return flowables for a run of blocks; neighbouring lines share one table."""
    out: list[Flowable] = []
    lines: list[Line] = []
    for block in blocks:
        if isinstance(block, Line) and not _is_long(block):
            lines.append(block)
            continue
        out += [*_table(lines, width), *_set(block, width)]
        lines = []
    return out + _table(lines, width)


def _set(block: Block, width: float) -> list[Flowable]:
    match block:
        case Heading():
            is_part = block.level == 1
            return [Title(block.words, PART if is_part else SECTION, is_part)]
        case Rows():
            return set_rows(block, width)
        case Line():
            return _long_line(block)
        case Prose():
            return flowing(block.words, QUIET_BODY if block.quiet else BODY)
        case Sketch():
            drawn = HandDrawing(block.drawing)
            label = plain(block.label, LABEL)
            return [KeepTogether([label, drawn, plain(block.who, WHO)])]
        case Tested():
            drawn_test = step_downs(block.marks, width)
            return [KeepTogether([plain(block.caption, CAPTION), *drawn_test])]
        case Laid():
            ruler = DepthRuler(block.lie, RULER_WIDTH_PT, RULER_HEIGHT_PT)
            return [KeepTogether([plain(block.caption, CAPTION), ruler])]


def _table(lines: list[Line], width: float) -> list[Flowable]:
    if not lines:
        return []
    rows = [
        [plain(line.label, LABEL), answers(line.said), [plain(s.who, WHO) for s in line.said]]
        for line in lines
    ]
    label, said = width * LABEL_SHARE, width * SAID_SHARE
    widths = [label, said, width - label - said]
    return [
        Table(rows, colWidths=widths, style=LINES_STYLE, splitInRow=1, hAlign="LEFT")
    ]


def answers(said: tuple[Said, ...]) -> list[Flowable]:
    """Return a field's answers, each marked in words for what it is."""
    told: list[Flowable] = []
    if len(said) > 1:
        told.append(marked(f"<b>{markup(say('note.two_answers'))}</b>", BODY))
    return told + [answer(s) for s in said]


def answer(said: Said) -> Paragraph:
    """Return one answer as a paragraph."""
    words = markup(said.words)
    if said.mark == "impossible":
        return marked(f"{words} <b>[{markup(say('note.impossible'))}]</b>", BODY)
    if said.mark == "two_answers":
        return marked(f"– {words}", BODY)
    return marked(words or "&#160;", BODY)


def _is_long(line: Line) -> bool:
    return any(len(s.words) > LONG_LETTERS for s in line.said)


def _long_line(line: Line) -> list[Flowable]:
    out: list[Flowable] = [plain(line.label, LABEL)]
    if len(line.said) > 1:
        out.append(marked(f"<b>{markup(say('note.two_answers'))}</b>", BODY))
    for said in line.said:
        out += [*flowing(said.words, BODY), plain(said.who, WHO)]
    return out
