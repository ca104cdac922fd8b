"""A drawing made by hand on the tablet, such as a signature, as vectors."""

from __future__ import annotations

from typing import Any

from reportlab.platypus import Flowable

from webapp.note.ink import EDGE, TEXT

WIDEST_PT, HIGHEST_PT = 220.0, 80.0


class HandDrawing(Flowable):
    """Draw strokes of whole points, scaled to fit; y grows downwards as on a screen."""

    def __init__(self, drawing: dict[str, Any]) -> None:
        super().__init__()
        self.strokes = drawing["strokes"]
        wide, high = float(drawing["width"]), float(drawing["height"])
        self.scale = min(WIDEST_PT / wide, HIGHEST_PT / high)
        self.width, self.height = wide * self.scale, high * self.scale

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        return self.width, self.height + 4

    def draw(self) -> None:
        canvas = self.canv
        canvas.setStrokeColor(EDGE)
        canvas.setLineWidth(0.4)
        canvas.line(0, 0, self.width, 0)
        canvas.setStrokeColor(TEXT)
        canvas.setLineWidth(1.1)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for stroke in self.strokes:
            path = canvas.beginPath()
            x, y = self._at(stroke[0])
            path.moveTo(x, y)
            # A stroke of one point is a dot: a line to itself with a round cap.
            for point in stroke[1:] or stroke:
                path.lineTo(*self._at(point))
            canvas.drawPath(path, stroke=1, fill=0)

    def _at(self, point: list[int]) -> tuple[float, float]:
        return point[0] * self.scale, self.height - point[1] * self.scale
