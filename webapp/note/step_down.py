"""The threshold test as it was read: one column a reading, more output higher up.

The rungs are equal, whatever the numbers, so that 1.2 and 1.0 stand as far apart
as 10 and 8; the numbers are printed as they were given.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from webapp.note.drawings import CANNOT_TELL, CAPTURES, NO_CAPTURE, draw_result
from webapp.note.faces import BOLD, REGULAR, width_pt
from webapp.note.ink import BAND, EDGE, QUIET, TEXT
from webapp.say import say

A_LINE = 16
LEGEND_PT, NUMBER_PT = 8.0, 9.5
HEAD_PT, FOOT_PT = 20.0, 20.0
RUNG_PT, TALLEST_PT = 7.2, 80.0
COLUMN_PT = 44.0


@dataclass(frozen=True, slots=True)
class OutputMark:
    """One output reading. `shown`: the dial as called, without its unit."""

    output: Fraction
    shown: str
    result: str


@dataclass(frozen=True, slots=True)
class StepMarks:
    """One test's readings in the order read; `low`, `high`: its bracket, if any."""

    readings: tuple[OutputMark, ...]
    low: Fraction | None
    high: Fraction | None


class StepDown(Flowable):
    """Draw up to 16 readings of a test; longer tests take several of these."""

    def __init__(self, test: StepMarks, width: float) -> None:
        super().__init__()
        self.test = test
        self.width = width
        self.levels = sorted({m.output for m in test.readings}, reverse=True)
        rungs = max(1, len(self.levels) - 1)
        self.rung = min(RUNG_PT, TALLEST_PT / rungs)
        self.column = min(COLUMN_PT, width / max(1, len(test.readings)))
        self.height = HEAD_PT + rungs * self.rung + FOOT_PT

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        canvas = self.canv
        self._draw_bracket(canvas)
        self._draw_path(canvas)
        for n, mark in enumerate(self.test.readings):
            x = (n + 0.5) * self.column
            draw_result(canvas, x, self.y(mark.output), mark.result)
            canvas.setFillColor(TEXT)
            canvas.setFont(BOLD, NUMBER_PT)
            canvas.drawCentredString(x, 2, mark.shown)
        self._draw_legend(canvas)

    def y(self, output: Fraction) -> float:
        """Return the height of an output's rung; more output is higher."""
        return self.height - HEAD_PT - self.levels.index(output) * self.rung

    def _draw_bracket(self, canvas: Canvas) -> None:
        low, high = self.test.low, self.test.high
        if low is None or high is None or not {low, high} <= set(self.levels):
            return
        canvas.setFillColor(BAND)
        canvas.setStrokeColor(EDGE)
        canvas.setLineWidth(0.5)
        bottom, top = self.y(low), self.y(high)
        canvas.rect(0, bottom, self.width, top - bottom, stroke=1, fill=1)

    def _draw_path(self, canvas: Canvas) -> None:
        canvas.setStrokeColor(EDGE)
        canvas.setLineWidth(1.2)
        path = canvas.beginPath()
        for n, mark in enumerate(self.test.readings):
            y = self.y(mark.output)
            draw = path.lineTo if n else path.moveTo
            draw(n * self.column + (0 if n else 2), y)
            path.lineTo((n + 1) * self.column, y)
        canvas.drawPath(path, stroke=1, fill=0)

    def _draw_legend(self, canvas: Canvas) -> None:
        """Name the shapes that occur, from the right edge leftwards."""
        found = {m.result for m in self.test.readings}
        x, y = self.width, self.height - 8
        for result in (CANNOT_TELL, NO_CAPTURE, CAPTURES):
            if result not in found:
                continue
            words = say(f"note.result.{result}")
            x -= width_pt(words, REGULAR, LEGEND_PT)
            canvas.setFillColor(QUIET)
            canvas.setFont(REGULAR, LEGEND_PT)
            canvas.drawString(x, y - 2.8, words)
            draw_result(canvas, x - 8, y, result, radius=3.2)
            x -= 24


def step_downs(test: StepMarks, width: float) -> list[StepDown]:
    """Return the drawings of one test, a line of 16 readings each."""
    lines = [
        test.readings[n : n + A_LINE] for n in range(0, len(test.readings), A_LINE)
    ]
    return [StepDown(StepMarks(line, test.low, test.high), width) for line in lines]
