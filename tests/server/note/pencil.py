"""A canvas that draws nothing and remembers what it was told to draw."""

from __future__ import annotations

from typing import Any


class Pencil:
    """Keeps circles, rectangles, lines and texts as tuples, in the order drawn."""

    def __init__(self) -> None:
        self.circles: list[tuple[float, float, float, int]] = []
        self.rects: list[tuple[float, float, float, float]] = []
        self.lines: list[tuple[float, float, float, float]] = []
        self.texts: list[tuple[float, float, str]] = []
        self.points: list[tuple[float, float]] = []
        self.dashes: list[tuple[Any, ...]] = []

    def circle(self, x: float, y: float, r: float, stroke: int, fill: int) -> None:
        self.circles.append((x, y, r, stroke))

    def rect(self, x: float, y: float, w: float, h: float, **_: int) -> None:
        self.rects.append((x, y, w, h))

    def line(self, x0: float, y0: float, x1: float, y1: float) -> None:
        self.lines.append((x0, y0, x1, y1))

    def drawString(self, x: float, y: float, text: str, **_: Any) -> None:
        self.texts.append((x, y, text))

    drawRightString = drawCentredString = drawString

    def beginPath(self) -> Pencil:
        return self

    def moveTo(self, x: float, y: float) -> None:
        self.points.append((x, y))

    lineTo = moveTo

    def curveTo(self, *numbers: float) -> None:
        self.points.append((numbers[4], numbers[5]))

    def setDash(self, *pattern: Any) -> None:
        self.dashes.append(pattern)

    def __getattr__(self, name: str) -> Any:
        if name in {
            "setFillColor", "setStrokeColor", "setLineWidth", "setFont", "drawPath",
            "saveState", "restoreState", "close", "setLineCap", "setLineJoin",
        }:  # fmt: skip
            return lambda *_, **__: None
        raise AttributeError(name)

    @property
    def words(self) -> list[str]:
        """Return the texts alone."""
        return [text for _, _, text in self.texts]


def sketched(flowable: Any) -> Pencil:
    """Return what a flowable draws."""
    pencil = Pencil()
    flowable.canv = pencil
    flowable.draw()
    return pencil
