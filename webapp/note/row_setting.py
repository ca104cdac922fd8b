"""Set a group's rows: a table when it can be read as one, else row after row."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table, TableStyle

from webapp.note.blocks import Rows, Said
from webapp.note.faces import REGULAR, width_pt
from webapp.note.ink import EDGE, HAIR_PT, TEXT
from webapp.note.long_text import flowing
from webapp.note.para import Para
from webapp.note.styles import BODY, CAPTION, CELL, COLUMN, marked, plain
from webapp.note.text import markup, printable
from webapp.say import say

MOST_COLUMNS = 9
LONGEST_CELL, LONGEST_PAIR = 90, 64
PADDING_PT = 8.0
NARROWEST_PT = 20.0
CELL_PT, COLUMN_PT = 9.0, 8.0
A_ROW = 3
LONGEST_IN_LINE = 900
BASE = [
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), PADDING_PT),
    ("TOPPADDING", (0, 0), (-1, -1), 1.2),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6),
]
TABLE = TableStyle(
    [
        *BASE,
        ("LINEBELOW", (0, 0), (-1, 0), HAIR_PT, TEXT),
        ("LINEBELOW", (0, 1), (-1, -1), HAIR_PT / 2, EDGE),
    ]
)
GRID = TableStyle([*BASE, ("LINEBELOW", (0, 0), (-1, -1), HAIR_PT / 2, EDGE)])


def set_rows(rows: Rows, width: float) -> list[Flowable]:
    """Return the caption, if it has one, and the rows, every cell in full."""
    out: list[Flowable] = []
    if rows.label:
        caption = plain(rows.label, CAPTION)
        caption.keepWithNext = 1
        out.append(caption)
    widths = column_widths(rows, width)
    if widths is None:
        return out + _one_by_one(rows, width)
    header = [plain(column, COLUMN) for column in rows.columns]
    cells = [[_cell(said) for said in row] for row in rows.rows]
    table = Table(
        [header, *cells], colWidths=widths, repeatRows=1, style=TABLE, hAlign="LEFT"
    )
    return [*out, table]


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
    while (over := sum(wanted) - width) > 0.01:
        slack = [w - m for w, m in zip(wanted, least, strict=True)]
        widest = max(range(len(slack)), key=lambda n: (slack[n], n))
        wanted[widest] -= min(over, slack[widest], max(2.0, slack[widest] / 2))
    return wanted


def _width(column: list[str], by_word: bool) -> float:
    head, *cells = column
    found = [NARROWEST_PT]
    for text, size in [(head, COLUMN_PT), *((c, CELL_PT) for c in cells)]:
        pieces = text.split(" ") if by_word else text.split("\n")
        found += [width_pt(piece, REGULAR, size) for piece in pieces]
    return max(found) + PADDING_PT + 0.5


def _shown(said: Said) -> str:
    words = printable(said.words)
    if said.mark == "impossible":
        return f"{words} [{say('note.impossible')}]"
    return words


def _cell(said: Said) -> Para:
    return marked(_words(said) or "&#160;", CELL)


def _words(said: Said) -> str:
    if said.mark == "impossible":
        kind = markup(say("note.impossible"))
        return f"{markup(said.words)} <b>[{kind}]</b>"
    return markup(said.words)


def _one_by_one(rows: Rows, width: float) -> list[Flowable]:
    """Return each row as a head with its author, then its answers in a grid."""
    out: list[Flowable] = []
    for number, row in enumerate(rows.rows, start=1):
        *cells, entered = row
        told = [
            (column, said)
            for column, said in zip(rows.columns, cells, strict=False)
            if said.words
        ]
        lead = f"<b>{number}</b>&#160;&#160;" if len(rows.rows) > 1 else ""
        head = marked(f'{lead}<font size="7.5">{markup(entered.words)}</font>', BODY)
        head.keepWithNext = 1
        out.append(head)
        short: list[tuple[str, Said]] = []
        for column, said in told:
            if len(column) + len(said.words) <= LONGEST_PAIR:
                short.append((column, said))
                continue
            out += [*_grid(short, width), *_across(column, said)]
            short = []
        out += _grid(short, width)
    return out


def _across(column: str, said: Said) -> list[Flowable]:
    """Return one answer across the page; very long ones flow under their name."""
    if len(said.words) <= LONGEST_IN_LINE:
        return [_pair(column, said)]
    return [marked(f"<b>{markup(column)}</b>", CELL), *flowing(said.words, BODY)]


def _grid(pairs: list[tuple[str, Said]], width: float) -> list[Flowable]:
    if not pairs:
        return []
    cells = [_pair(column, said) for column, said in pairs]
    cells += [marked("&#160;", CELL)] * (-len(cells) % A_ROW)
    rows = [cells[n : n + A_ROW] for n in range(0, len(cells), A_ROW)]
    widths = [width / A_ROW] * A_ROW
    return [Table(rows, colWidths=widths, style=GRID, splitInRow=1, hAlign="LEFT")]


def _pair(column: str, said: Said) -> Para:
    quiet = f'<font color="#47545a">{markup(column)}</font>'
    return marked(f"{quiet}&#160; {_words(said)}", CELL)
