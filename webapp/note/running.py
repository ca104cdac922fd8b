"""What stands on every page: who, whether it is signed, which page of how many."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas

from webapp.note.faces import BOLD, REGULAR, width_pt
from webapp.note.identity import Identity
from webapp.note.ink import HAIR_PT, MARGIN_PT, QUIET, RULE_PT, TEXT
from webapp.note.para import Para
from webapp.note.styles import DETAILS, NAME, QUIET_BODY, WHO, marked, plain
from webapp.note.text import markup, one_line
from webapp.say import say

FOOT_PT = 40.0
SEAL_PT, SMALL_SEAL_PT = 108.0, 84.0
SHORT_NAME = ParagraphStyle("short-name", parent=DETAILS, fontName=BOLD, fontSize=11)
# A header repeats on each page: what is longer is whole on page 1 or in Patient.
MOST_LETTERS, MOST_ON_PAGE_1 = 300, 900


@dataclass(frozen=True, slots=True)
class Running:
    """What the header and footer say. `signed`: "" until somebody signed."""

    identity: Identity
    hospital: str
    signed: str
    footer: str
    page_size: tuple[float, float]

    @property
    def width(self) -> float:
        """Return the width between the margins, in points."""
        return self.page_size[0] - 2 * MARGIN_PT


def draw_first_header(canvas: Canvas, running: Running) -> float:
    """Draw page 1's identity block; return the y of its lower edge."""
    top = running.page_size[1] - 26
    room = running.width - SEAL_PT - 12
    name = marked(f"<b>{_short(running.identity.name, MOST_ON_PAGE_1)}</b>", NAME)
    _, name_high = name.wrap(room, 1000)
    name.drawOn(canvas, MARGIN_PT, top - name_high)
    details = marked(_short(running.identity.details, MOST_ON_PAGE_1), DETAILS)
    _, high = details.wrap(room, 1000)
    details.drawOn(canvas, MARGIN_PT, top - name_high - high - 1)
    _draw_seal(canvas, running, top - 2, big=True)
    hospital = plain(running.hospital[:MOST_LETTERS], WHO)
    _, hospital_high = hospital.wrap(SEAL_PT, 1000)
    hospital.drawOn(canvas, _right(running) - SEAL_PT, top - 25 - hospital_high)
    return top - max(name_high + high + 1, 25 + hospital_high) - 6


def header_height(running: Running) -> float:
    """Return how much of later pages the header takes, from the paper's edge."""
    return 24 + _later_identity(running)[1] + 10


def draw_header(canvas: Canvas, running: Running) -> None:
    """Draw the identity line of a later page."""
    top = running.page_size[1] - 22
    paragraph, high = _later_identity(running)
    paragraph.drawOn(canvas, MARGIN_PT, top - high)
    _draw_seal(canvas, running, top, big=False)
    canvas.setStrokeColor(TEXT)
    canvas.setLineWidth(HAIR_PT)
    canvas.line(MARGIN_PT, top - high - 5, _right(running), top - high - 5)


def _later_identity(running: Running) -> tuple[Para, float]:
    short = _short(running.identity.short, MOST_LETTERS)
    paragraph = marked(f"<b>{short}</b>", SHORT_NAME)
    _, high = paragraph.wrap(running.width - SMALL_SEAL_PT - 10, 1000)
    return paragraph, high


def draw_footer(canvas: Canvas, running: Running) -> None:
    """Draw the footer's words: what fixes the note, and who decides."""
    y = FOOT_PT - 4
    canvas.setStrokeColor(TEXT)
    canvas.setLineWidth(HAIR_PT)
    canvas.line(MARGIN_PT, y + 4, _right(running), y + 4)
    room = running.width - 90
    footer = plain(running.footer, QUIET_BODY)
    _, high = footer.wrap(room, 1000)
    footer.drawOn(canvas, MARGIN_PT, y - high)


def draw_page_number(canvas: Canvas, running: Running, page: int, pages: int) -> None:
    """Draw "page 2 of 5" at the right of the footer."""
    canvas.setFillColor(TEXT)
    canvas.setFont(BOLD, 9.5)
    words = say("note.page_of", page=page, pages=pages)
    canvas.drawRightString(_right(running), FOOT_PT - 13, words)


def _draw_seal(canvas: Canvas, running: Running, top: float, big: bool) -> None:
    """Draw the box that says who signed, or that nobody did."""
    words = running.signed or say("note.not_signed")
    size = 11.0 if big else 9.0
    high = 20.0 if big else 15.0
    words = one_line(words)
    most = SEAL_PT if big else SMALL_SEAL_PT
    while width_pt(words, BOLD, size) > most - 10 and size > 6.5:
        size -= 0.25
    while width_pt(words, BOLD, size) > most - 10:
        words = words[:-2].rstrip() + "…"
    wide = SEAL_PT if big else width_pt(words, BOLD, size) + 12
    x = _right(running) - wide
    canvas.setStrokeColor(TEXT)
    canvas.setLineWidth(RULE_PT)
    canvas.rect(x, top - high, wide, high, stroke=1, fill=0)
    canvas.setFillColor(TEXT)
    canvas.setFont(BOLD, size)
    canvas.drawCentredString(x + wide / 2, top - high / 2 - size * 0.34, words)


def _short(words: str, most: int) -> str:
    flat = " ".join(words.split())
    return markup(flat if len(flat) <= most else flat[: most - 1] + "…")


def _right(running: Running) -> float:
    return running.page_size[0] - MARGIN_PT


def draw_rule(canvas: Canvas, running: Running, y: float, thick: bool = True) -> None:
    """Draw a rule across the page."""
    canvas.setStrokeColor(TEXT if thick else QUIET)
    canvas.setLineWidth(RULE_PT if thick else HAIR_PT)
    canvas.line(MARGIN_PT, y, _right(running), y)


def draw_small(canvas: Canvas, x: float, y: float, words: str, size_pt: float) -> None:
    """Draw one quiet line of text."""
    canvas.setFillColor(QUIET)
    canvas.setFont(REGULAR, size_pt)
    canvas.drawString(x, y, words)
