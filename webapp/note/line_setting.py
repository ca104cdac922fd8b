"""Set labelled lines: short answers two to a row, long ones across the page."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table, TableStyle

from webapp.note.blocks import Line, Said
from webapp.note.faces import REGULAR, width_pt
from webapp.note.ink import EDGE, HAIR_PT
from webapp.note.long_text import flowing
from webapp.note.para import Para
from webapp.note.styles import BODY, LABEL, WHO, marked, plain
from webapp.note.text import is_printable, markup
from webapp.say import say

LONG_LETTERS = 900
GUTTER_PT = 16.0
WHO_SHARE = 0.2
HALF_LABEL, HALF_WHO = 0.41, 0.29
BODY_PT, WHO_PT = 9.5, 7.5
LINES_HALF = 2
STYLE = [
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 5),
    ("TOPPADDING", (0, 0), (-1, -1), 1.2),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 1.8),
]
RULE = ("LINEBELOW", HAIR_PT / 2, EDGE)


def set_lines(lines: list[Line], width: float) -> list[Flowable]:
    """Return flowables for neighbouring lines, in their order."""
    out: list[Flowable] = []
    half = (width - GUTTER_PT) / 2
    run: list[Line] = []
    is_short_run = False
    for line in lines:
        if _is_long(line):
            out += [*_run(run, width, is_short_run), *_long_line(line)]
            run = []
            continue
        is_short = fits(line, half)
        if run and is_short is not is_short_run:
            out += _run(run, width, is_short_run)
            run = []
        run.append(line)
        is_short_run = is_short
    return out + _run(run, width, is_short_run)


def fits(line: Line, width: float) -> bool:
    """Return whether a line's label, answer and author stand on one half row."""
    if line.wide or len(line.said) != 1 or line.said[0].mark == "impossible":
        return False
    said = line.said[0]
    texts = (line.label, said.words, said.who)
    if any("\n" in text or not is_printable(text) for text in texts):
        return False
    rooms = (HALF_LABEL, 1 - HALF_LABEL - HALF_WHO, HALF_WHO)
    sizes = (BODY_PT, BODY_PT, WHO_PT)
    return all(
        _stands_in(text, size, width * room - 5.5)
        for text, size, room in zip(texts, sizes, rooms, strict=True)
    )


def _stands_in(text: str, size_pt: float, room_pt: float) -> bool:
    """Return whether a text takes two lines at most, no word of it broken."""
    words = text.split(" ")
    lines, used = 1, 0.0
    space = width_pt(" ", REGULAR, size_pt)
    for word in words:
        wide = width_pt(word, REGULAR, size_pt)
        if wide > room_pt:
            return False
        if used and used + space + wide > room_pt:
            lines, used = lines + 1, wide
        else:
            used += wide + (space if used else 0)
    return lines <= LINES_HALF


def _run(lines: list[Line], width: float, is_short: bool) -> list[Flowable]:
    if not lines:
        return []
    return [_pairs(lines, width) if is_short else _singles(lines, width)]


def _pairs(lines: list[Line], width: float) -> Table:
    """Set lines two to a row, read across."""
    half = (width - GUTTER_PT) / 2
    one = [half * HALF_LABEL, half * (1 - HALF_LABEL - HALF_WHO), half * HALF_WHO]
    rows = [
        [
            *_cells(lines[n]),
            "",
            *(_cells(lines[n + 1]) if n + 1 < len(lines) else [""] * 3),
        ]
        for n in range(0, len(lines), 2)
    ]
    name, weight, colour = RULE
    last = (-1, -1) if len(lines) % 2 == 0 else (-1, -2)
    rules = [(name, (0, 0), (2, -1), weight, colour)]
    if len(lines) > 1:
        rules.append((name, (4, 0), last, weight, colour))
    style = TableStyle([*STYLE, *rules, ("RIGHTPADDING", (2, 0), (2, -1), 0),
                        ("RIGHTPADDING", (-1, 0), (-1, -1), 0)])  # fmt: skip
    return Table(rows, colWidths=[*one, GUTTER_PT, *one], style=style, hAlign="LEFT")


def _cells(line: Line) -> list[Flowable]:
    said = line.said[0]
    return [plain(line.label, LABEL), plain(said.words, BODY), plain(said.who, WHO)]


def _singles(lines: list[Line], width: float) -> Table:
    """Set each line across the page; its answers stand under one another.

    Where no line names an author, the answers have that room too.
    """
    name, weight, colour = RULE
    style = TableStyle(
        [
            *STYLE,
            (name, (0, 0), (-1, -1), weight, colour),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ]
    )
    has_who = any(s.who for line in lines for s in line.said)
    label = (width - GUTTER_PT) / 2 * HALF_LABEL
    who = width * WHO_SHARE if has_who else 0.0
    widths = [label, width - label - who, who] if has_who else [label, width - label]
    rows = [
        [plain(line.label, LABEL), answers(line.said), _author(line)][: len(widths)]
        for line in lines
    ]
    return Table(rows, colWidths=widths, style=style, splitInRow=1, hAlign="LEFT")


def _author(line: Line) -> Flowable:
    """Return a line's author; of several answers each carries its own."""
    return plain(line.said[0].who if len(line.said) == 1 else "", WHO)


def answers(said: tuple[Said, ...]) -> list[Flowable]:
    """Return a field's answers; two are said to be two, each with its author."""
    if len(said) == 1:
        return [answer(said[0])]
    head = marked(f"<b>{markup(say('note.two_answers'))}</b>", BODY)
    return [head, *(answer(s, with_author=True) for s in said)]


def answer(said: Said, with_author: bool = False) -> Para:
    """Return one answer, marked in words where it is impossible or struck."""
    words = markup(said.words) or "&#160;"
    if said.mark == "impossible":
        words += f" <b>[{markup(say('note.impossible'))}]</b>"
    if with_author:
        words = f'– {words} &#160;<font size="7.5">({markup(said.who)})</font>'
    return marked(words, BODY)


def _is_long(line: Line) -> bool:
    return any(len(s.words) > LONG_LETTERS for s in line.said)


def _long_line(line: Line) -> list[Flowable]:
    out: list[Flowable] = [plain(line.label, LABEL)]
    if len(line.said) > 1:
        out.append(marked(f"<b>{markup(say('note.two_answers'))}</b>", BODY))
    for said in line.said:
        out += [*flowing(said.words, BODY), plain(said.who, WHO)]
    return out
