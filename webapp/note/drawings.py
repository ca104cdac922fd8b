"""The few shapes the note draws: words and shape first, colour third."""

from __future__ import annotations

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from webapp.note.ink import ALARM, EDGE, LINE, PAPER, TEXT

CAPTURES = "captures"
NO_CAPTURE = "no_capture"
CANNOT_TELL = "cannot_tell"


def draw_result(
    canvas: Canvas, x: float, y: float, result: str, radius: float = 4.2
) -> None:
    """Draw a reading's result centred at x, y: disc, open square or open triangle.

    A result that is none of the three, or not stated, is an open ring.
    """
    if result == CAPTURES:
        canvas.setFillColor(LINE)
        canvas.circle(x, y, radius, stroke=0, fill=1)
    elif result == NO_CAPTURE:
        _open(canvas, ALARM, 1.7)
        side = radius * 1.9
        canvas.rect(x - side / 2, y - side / 2, side, side, stroke=1, fill=1)
    elif result == CANNOT_TELL:
        _open(canvas, TEXT, 1.2)
        path = canvas.beginPath()
        path.moveTo(x - radius, y - radius * 0.8)
        path.lineTo(x + radius, y - radius * 0.8)
        path.lineTo(x, y + radius)
        path.close()
        canvas.drawPath(path, stroke=1, fill=1)
    else:
        draw_bead(canvas, x, y, radius * 0.8)


def draw_bead(canvas: Canvas, x: float, y: float, radius: float = 2.6) -> None:
    """Draw an open ring: one depth that was read."""
    _open(canvas, LINE, 1.4)
    canvas.circle(x, y, radius, stroke=1, fill=1)


def draw_lead(canvas: Canvas, x: float, y: float, height: float = 17) -> None:
    """Draw the wire's tip as a sounding lead, its lowest point at x, y."""
    half, top = height * 0.42, height * 0.22
    canvas.setFillColor(LINE)
    canvas.setStrokeColor(PAPER)
    canvas.setLineWidth(1)
    path = canvas.beginPath()
    path.moveTo(x - top, y + height)
    path.lineTo(x + top, y + height)
    path.lineTo(x + half, y + height * 0.2)
    path.curveTo(
        x + half * 0.6, y - 1, x - half * 0.6, y - 1, x - half, y + height * 0.2
    )
    path.close()
    canvas.drawPath(path, stroke=1, fill=1)


def draw_weight(
    canvas: Canvas, x: float, y: float, weight: str, height: float = 9.5
) -> None:
    """Draw a remark's weight: hollow fits, half look again, solid look now.

    The drawing of static/js/live/lead.js, its lowest point at y, its left edge at x.
    """
    # Its box there: 22 wide, 23.5 high, its left edge at 4, its top at 3.
    unit = height / 23.5
    canvas.setStrokeColor(TEXT)
    canvas.setFillColor(TEXT)
    canvas.setLineWidth(2.2 * unit)
    canvas.setLineJoin(1)
    fills = {"look_now": (3.0, 4.0), "look_again": (13.0, 7.3)}
    if weight in fills:
        top, half = fills[weight]
        canvas.drawPath(_lead(canvas, x, y, unit, top, half), stroke=0, fill=1)
    canvas.drawPath(_lead(canvas, x, y, unit, 3.0, 4.0), stroke=1, fill=0)


def _lead(
    canvas: Canvas, x: float, y: float, unit: float, top: float, half: float
) -> PDFPathObject:
    """Return the lead's outline below `top`, where it is 2 × `half` wide."""

    def at(across: float, down: float) -> tuple[float, float]:
        return x + (across - 4.0) * unit, y + (26.5 - down) * unit

    path = canvas.beginPath()
    path.moveTo(*at(15 - half, top))
    path.lineTo(*at(15 + half, top))
    path.lineTo(*at(26, 22))
    # One quadratic curve from 26, 22 to 4, 22 by 15, 31, as a cubic one.
    path.curveTo(*at(18.67, 28), *at(11.33, 28), *at(4, 22))
    path.close()
    return path


def draw_leader(canvas: Canvas, x0: float, y0: float, x1: float, y1: float) -> None:
    """Draw the hairline from a bead to its words."""
    canvas.setStrokeColor(EDGE)
    canvas.setLineWidth(0.5)
    canvas.line(x0, y0, x1, y1)


def _open(canvas: Canvas, colour: Color, line_pt: float) -> None:
    canvas.setStrokeColor(colour)
    canvas.setFillColor(PAPER)
    canvas.setLineWidth(line_pt)
