"""Draw what has a fixed place on page 1: identity, title, numbers, depth ruler."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from webapp.note.faces import BOLD, REGULAR, width_pt
from webapp.note.figures import Figure
from webapp.note.ink import MARGIN_PT, QUIET, TEXT
from webapp.note.moments import Happened
from webapp.note.numbers import draw_number, number_width_pt
from webapp.note.ruler import DepthRuler, cut
from webapp.note.running import FOOT_PT, Running, draw_first_header, draw_rule
from webapp.note.styles import BODY, BODY_BOLD, COLUMN, STATE, TITLE, plain
from webapp.note.summary import Summary
from webapp.note.text import one_line
from webapp.say import say

AMOUNT_PT, AMOUNT_SMALL_PT = 36.0, 27.0
GAP_PT = 12.0
LABEL_PT = 10.0
RULER_WIDTH_PT = 154.0
MOMENT_PT, MOMENTS_SHOWN, TIME_WIDTH_PT = 11.2, 20, 26.0
COLUMN_GAP_PT = 18.0


def draw_top(canvas: Canvas, running: Running, told: Summary) -> float:
    """Draw identity, title and numbers; return the y below them, in points."""
    y = draw_first_header(canvas, running)
    y = _draw_title(canvas, running, told, y)
    draw_rule(canvas, running, y)
    is_single = len(told.wires) == 1
    for wire in told.wires:
        y = _draw_band(canvas, running, wire.name, wire.figures, y, is_single)
        draw_rule(canvas, running, y, thick=wire is told.wires[-1])
    if not told.wires:
        y = _draw_words(canvas, running, say("note.no_wire"), y)
        draw_rule(canvas, running, y)
    return y - 6


def draw_ruler(canvas: Canvas, told: Summary, top: float) -> None:
    """Draw the last wire's depth ruler down the left edge, the moments under it."""
    bottom = FOOT_PT + 14
    times = told.times[:MOMENTS_SHOWN]
    more = len(told.times) - len(times)
    lines = len(times) + bool(more) + bool(times)
    ruler_bottom = bottom + lines * MOMENT_PT + (9 if lines else 0)
    wire = told.wires[-1]
    if wire.name:
        name = plain(wire.name, BODY_BOLD)
        _, high = name.wrap(RULER_WIDTH_PT, 100)
        name.drawOn(canvas, MARGIN_PT, top - high)
        top -= high + 2
    ruler = DepthRuler(wire.lie, RULER_WIDTH_PT, top - ruler_bottom)
    ruler.drawOn(canvas, MARGIN_PT, ruler_bottom)
    if lines:
        _draw_moments(canvas, times, more, ruler_bottom - 9)


def _draw_moments(
    canvas: Canvas, times: tuple[Happened, ...], more: int, y: float
) -> None:
    """Draw the moments one under another, the earliest on top."""
    y -= MOMENT_PT - 2
    canvas.setFillColor(TEXT)
    canvas.setFont(BOLD, 10)
    canvas.drawString(MARGIN_PT, y, say("note.times"))
    for moment in times:
        y -= MOMENT_PT
        words = cut(one_line(moment.words), 9, RULER_WIDTH_PT * 0.6)
        canvas.setFillColor(TEXT)
        canvas.setFont(REGULAR, 9)
        canvas.drawString(MARGIN_PT, y, words)
        x = max(width_pt(words, REGULAR, 9) + 5, TIME_WIDTH_PT)
        canvas.setFillColor(QUIET)
        label = cut(one_line(moment.label), 9, RULER_WIDTH_PT - x)
        canvas.drawString(MARGIN_PT + x, y, label)
    if more:
        y -= MOMENT_PT
        canvas.setFillColor(QUIET)
        canvas.setFont(REGULAR, 9)
        canvas.drawString(MARGIN_PT, y, say("note.times_more", n=more))


def _draw_title(canvas: Canvas, running: Running, told: Summary, y: float) -> float:
    title = plain(told.title, TITLE)
    _, high = title.wrap(running.width, 1000)
    title.drawOn(canvas, MARGIN_PT, y - high)
    y -= high + 1
    return _draw_words(canvas, running, told.line, y, gap=5)


def _draw_words(
    canvas: Canvas, running: Running, words: str, y: float, gap: float = 8
) -> float:
    paragraph = plain(words if len(words) < 600 else words[:599] + "…", STATE)
    _, high = paragraph.wrap(running.width, 1000)
    paragraph.drawOn(canvas, MARGIN_PT, y - high - (gap - 5))
    return y - high - gap


def _draw_band(
    canvas: Canvas,
    running: Running,
    name: str,
    figures: tuple[Figure, ...],
    y: float,
    is_single: bool,
) -> float:
    """Draw one wire's numbers in four equal columns; return the y below them."""
    size = AMOUNT_PT if is_single else AMOUNT_SMALL_PT
    if name:
        named = plain(name, BODY_BOLD)
        _, high = named.wrap(running.width, 1000)
        named.drawOn(canvas, MARGIN_PT, y - high - 3)
        y -= high + 2
    wide = (running.width - GAP_PT * (len(figures) - 1)) / len(figures)
    places = [MARGIN_PT + n * (wide + GAP_PT) for n in range(len(figures))]
    high = max(
        _draw_label(canvas, figure.label, x, y - 6, wide)
        for figure, x in zip(figures, places, strict=True)
    )
    # A label of two lines moves the numbers of the whole band down.
    base = y - 8 - max(high, LABEL_PT) - size * 0.82
    lowest = min(
        _draw_figure(canvas, figure, x, base, wide, size)
        for figure, x in zip(figures, places, strict=True)
    )
    return lowest - 6


def _draw_label(canvas: Canvas, label: str, x: float, y: float, wide: float) -> float:
    """Draw a label down from y; return its height in points."""
    drawn = plain(label, COLUMN)
    _, high = drawn.wrap(wide, 100)
    drawn.drawOn(canvas, x, y - high)
    return float(high)


def _draw_figure(
    canvas: Canvas, figure: Figure, x: float, base: float, wide: float, size: float
) -> float:
    amount = one_line(figure.amount)
    unit = one_line(figure.unit)
    unit_wide = width_pt(f" {unit}", REGULAR, 11) if unit else 0
    while number_width_pt(amount, size) + unit_wide > wide and size > 9:
        size -= 0.5
    end = draw_number(canvas, x, base, amount, size, TEXT)
    canvas.setFillColor(QUIET)
    canvas.setFont(REGULAR, 11)
    canvas.drawString(end, base, f" {unit}" if unit else "")
    note = plain(figure.note, BODY)
    _, high = note.wrap(wide, 400)
    note.drawOn(canvas, x, base - 8 - high)
    return base - 8 - high
