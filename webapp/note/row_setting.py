"""Set a group's rows: a table when it can be read as one, else row after row."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table, TableStyle

from webapp.note.blocks import Rows, Said
from webapp.note.faces import BOLD, REGULAR, width_pt
from webapp.note.ink import EDGE, HAIR_PT, TEXT
from webapp.note.long_text import flowing
from webapp.note.styles import (
    BODY, CAPTION, CELL, COLUMN, WHO, marked, plain,
)  # fmt: skip
from webapp.note.text import markup, printable
from webapp.say import say

MOST_COLUMNS = 9
LONGEST_CELL = 90
PADDING_PT = 8.0
NARROWEST_PT = 24.0
ROWS_STYLE = TableStyle(
    [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), PADDING_PT),
        ("TOPPADDING", (0, 0), (-1, -1), 1.4),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.8),
        ("LINEBELOW", (0, 0), (-1, 0), HAIR_PT, TEXT),
        ("LINEBELOW", (0, 1), (-1, -1), HAIR_PT / 2, EDGE),
    ]
)


def set_rows(rows: Rows, width: float) -> list[Flowable]:
    """Return the caption and the rows, every cell in full."""
    caption = plain(rows.label, CAPTION)
    caption.keepWithNext = 1
    widths = column_widths(rows, width)
    if widths is None:
        return [caption, *_one_by_one(rows)]
    header = [plain(column, COLUMN) for column in rows.columns]
    cells = [[_cell(said) for said in row] for row in rows.rows]
    return [
        caption,
        Table(
            [header, *cells],
            colWidths=widths,
            repeatRows=1,
            style=ROWS_STYLE,
            hAlign="LEFT",
        ),
    ]


def column_widths(rows: Rows, width: float) -> list[float] | None:
    """Return widths in which no word is broken, or None when none exist.

    Columns get what their longest text wants; what is over is taken from the widest.
    """
    texts = [
        [column, *(_shown(row[n]) for row in rows.rows)]
        for n, column in enumerate(rows.columns)
    ]
    longest = max(len(t) for column in texts for t in column)
    if len(texts) > MOST_COLUMNS or longest > LONGEST_CELL:
        return None
    least = [_width(column, by_word=True) for column in texts]
    wanted = [_width(column, by_word=False) for column in texts]
    if sum(least) > width:
        return None
    over = sum(wanted) - width
    while over > 0.01:
        slack = [w - m for w, m in zip(wanted, least, strict=True)]
        widest = max(range(len(slack)), key=lambda n: (slack[n], n))
        taken = min(over, slack[widest], max(2.0, slack[widest] / 2))
        wanted[widest] -= taken
        over = sum(wanted) - width
    return wanted


def _width(column: list[str], by_word: bool) -> float:
    head, *cells = column
    found = [NARROWEST_PT]
    for text, face, size in [(head, REGULAR, 8.0), *((c, BOLD, 9.0) for c in cells)]:
        pieces = text.split(" ") if by_word else text.split("\n")
        found += [width_pt(piece, face, size) for piece in pieces]
    return max(found) + PADDING_PT


def _shown(said: Said) -> str:
    words = printable(said.words)
    if said.mark == "impossible":
        return f"{words} [{say('note.impossible')}]"
    return words


def _cell(said: Said) -> Flowable:
    if said.mark == "impossible":
        kind = markup(say("note.impossible"))
        return marked(f"{markup(said.words)} <b>[{kind}]</b>", CELL)
    return plain(said.words, CELL)


def _one_by_one(rows: Rows) -> list[Flowable]:
    """Return each row as running text, "column value", numbered where several."""
    out: list[Flowable] = []
    for number, row in enumerate(rows.rows, start=1):
        *cells, entered = row
        told = []
        for column, said in zip(rows.columns, cells, strict=False):
            if said.words:
                told.append((column, said))
        lead = f"<b>{number}</b>&#160; " if len(rows.rows) > 1 else ""
        short = [(c, s) for c, s in told if len(s.words) <= LONGEST_CELL * 4]
        line = " · ".join(_pair(column, said) for column, said in short)
        if line or lead:
            out.append(marked(lead + line, BODY))
        for column, said in told:
            if (column, said) not in short:
                out.append(marked(f"<b>{markup(column)}</b>", BODY))
                out += flowing(said.words, BODY)
        out.append(plain(entered.words, WHO))
    return out


def _pair(column: str, said: Said) -> str:
    mark = ""
    if said.mark == "impossible":
        mark = f" <b>[{markup(say('note.impossible'))}]</b>"
    return f'<font color="#47545a">{markup(column)}</font> {markup(said.words)}{mark}'
