"""The depth ruler: how the wire lies, with every depth as it was read.

The scale counts centimetres from the sheath hub downwards. Rings are counted from
the tip, so they travel with the wire; without ring marks from the kit none is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from webapp.note.drawings import draw_bead, draw_lead, draw_leader
from webapp.note.faces import BOLD, REGULAR, width_pt
from webapp.note.ink import EDGE, LINE, PAPER, QUIET, SEA, TEXT
from webapp.say import say

ABOVE_HUB_CM = 10
RING_CM = 10
LABEL_PT = 8.0
LABEL_GAP_PT = 9.6
SCALE_X, WIRE_X, BEAD_X, LABEL_X = 20.0, 34.0, 45.0, 56.0


@dataclass(frozen=True, slots=True)
class DepthMark:
    """One depth as read. `said`: the result in words; `when`: its time of day."""

    depth_cm: Fraction
    shown: str
    said: str
    when: str


@dataclass(frozen=True, slots=True)
class WireLie:
    """What the ruler draws for one wire.

    `tip_cm`: the final depth, or the last one read when `is_final` is false;
    None when nothing was read. `has_rings`: the kit has a ring every 10 cm.
    `scale_cm`: how far the scale goes. `undrawn`: readings that hold no usable depth.
    """

    marks: tuple[DepthMark, ...]
    tip_cm: Fraction | None
    is_final: bool
    has_rings: bool
    scale_cm: int
    undrawn: int = 0


class DepthRuler(Flowable):
    """Draw one wire's depths down a column of the page."""

    def __init__(self, lie: WireLie, width: float, height: float) -> None:
        super().__init__()
        self.lie = lie
        self.width, self.height = width, height
        deepest = max([m.depth_cm for m in lie.marks] + [lie.tip_cm or Fraction(0)])
        self.scale_cm = max(lie.scale_cm, int(deepest) + 5)
        self.per_cm = height / (self.scale_cm + ABOVE_HUB_CM)

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        canvas = self.canv
        canvas.setFillColor(SEA)
        canvas.rect(0, 0, self.width, self.y(0), stroke=0, fill=1)
        self._draw_scale(canvas)
        self._draw_wire(canvas)
        self._draw_hub(canvas)
        self._draw_marks(canvas)
        canvas.setFillColor(QUIET)
        canvas.setFont(REGULAR, LABEL_PT)
        for n, words in enumerate(self._below()):
            y = 3 + n * LABEL_GAP_PT
            canvas.drawString(LABEL_X, y, cut(words, LABEL_PT, self.width - LABEL_X))

    def y(self, depth_cm: float | Fraction) -> float:
        """Return the height on the drawing of a depth; the deeper the lower."""
        return self.height - (ABOVE_HUB_CM + float(depth_cm)) * self.per_cm

    def _below(self) -> list[str]:
        """Return what is said under the drawing of readings it does not name."""
        below = []
        if self.lie.undrawn:
            below.append(say("note.depths_undrawn", n=self.lie.undrawn))
        if earlier := len(self.lie.marks) - self._most_named():
            below.append(say("note.depths_earlier", n=earlier))
        return below

    def _most_named(self) -> int:
        """Return how many readings are named: the last, as many as have a place."""
        lines = int(self.height / LABEL_GAP_PT) - 2
        return min(len(self.lie.marks), max(lines, 1))

    def _draw_scale(self, canvas: Canvas) -> None:
        canvas.setStrokeColor(EDGE)
        canvas.setLineWidth(0.9)
        canvas.setFillColor(QUIET)
        canvas.setFont(REGULAR, LABEL_PT)
        for depth_cm in range(0, self.scale_cm + 1, 5):
            y, is_ten = self.y(depth_cm), depth_cm % 10 == 0
            canvas.line(SCALE_X + (2 if is_ten else 4), y, SCALE_X + 9, y)
            if is_ten and depth_cm:
                canvas.drawRightString(SCALE_X - 1, y - 2.8, str(depth_cm))

    def _draw_hub(self, canvas: Canvas) -> None:
        y = self.y(0)
        canvas.setFillColor(TEXT)
        canvas.rect(0, y - 1.2, WIRE_X - 5, 2.4, stroke=0, fill=1)
        canvas.rect(WIRE_X + 5, y - 1.2, self.width - WIRE_X - 5, 2.4, stroke=0, fill=1)
        canvas.setFont(REGULAR, LABEL_PT)
        canvas.drawString(0, y + 4, say("note.hub"))

    def _draw_wire(self, canvas: Canvas) -> None:
        tip_cm = self.lie.tip_cm
        if tip_cm is None:
            if not self.lie.marks:
                canvas.setFillColor(QUIET)
                canvas.setFont(REGULAR, LABEL_PT)
                canvas.drawString(LABEL_X, self.y(3), say("note.no_depth"))
            return
        canvas.saveState()
        canvas.setStrokeColor(LINE)
        canvas.setLineWidth(3.4)
        if not self.lie.is_final:
            canvas.setDash(5, 3)
        canvas.line(WIRE_X, self.height, WIRE_X, self.y(tip_cm) + 9)
        canvas.restoreState()
        if self.lie.has_rings:
            self._draw_rings(canvas, tip_cm)
            self._draw_rings_out(canvas, tip_cm)
        draw_lead(canvas, WIRE_X, self.y(tip_cm))

    def _draw_rings(self, canvas: Canvas, tip_cm: Fraction) -> None:
        count = int((tip_cm + ABOVE_HUB_CM) / RING_CM)
        for ring in range(1, count + 1):
            y = self.y(tip_cm - ring * RING_CM)
            for n in range(ring if ring < 5 else 1):
                canvas.setFillColor(LINE)
                canvas.setStrokeColor(PAPER)
                canvas.setLineWidth(0.6)
                height = 2.2 if ring < 5 else 4.4
                canvas.rect(WIRE_X - 6, y + n * 3.4, 12, height, stroke=1, fill=1)

    def _draw_rings_out(self, canvas: Canvas, tip_cm: Fraction) -> None:
        """Say which ring stands outside the hub, and how far: what to see there."""
        rings = int(tip_cm // RING_CM) + 1
        out_cm = rings * RING_CM - tip_cm
        if not self.lie.is_final or out_cm >= ABOVE_HUB_CM:
            return
        canvas.setFillColor(TEXT)
        canvas.setFont(REGULAR, LABEL_PT)
        cm = str(out_cm) if out_cm.denominator == 1 else f"{float(out_cm):.1f}"
        y = self.y(tip_cm - rings * RING_CM)
        key = "note.ring_out" if rings == 1 else "note.rings_out"
        canvas.drawString(BEAD_X, y + 2, say(key, n=rings, cm=cm))

    def _draw_marks(self, canvas: Canvas) -> None:
        named = self.lie.marks[len(self.lie.marks) - self._most_named() :]
        for mark in self.lie.marks[: len(self.lie.marks) - len(named)]:
            draw_bead(canvas, BEAD_X, self.y(mark.depth_cm))
        marks = sorted(named, key=lambda m: m.depth_cm)
        wanted = [self.y(m.depth_cm) for m in marks]
        lowest = 6 + LABEL_GAP_PT * len(self._below())
        for mark, y, label_y in zip(marks, wanted, spread(wanted, lowest), strict=True):
            draw_leader(canvas, BEAD_X + 3, y, LABEL_X - 2, label_y)
            draw_bead(canvas, BEAD_X, y)
            if abs(label_y - self.y(0)) < LABEL_GAP_PT / 2:
                self._clear(canvas, label_y)
            self._draw_words(canvas, mark, label_y - 2.8)

    def _clear(self, canvas: Canvas, y: float) -> None:
        """Take the hub's bar away behind a label that stands on it."""
        canvas.setFillColor(PAPER)
        high = LABEL_GAP_PT - 1
        wide = self.width - LABEL_X + 1
        canvas.rect(LABEL_X - 1, y - high / 2, wide, high, stroke=0, fill=1)

    def _draw_words(self, canvas: Canvas, mark: DepthMark, y: float) -> None:
        canvas.setFillColor(TEXT)
        canvas.setFont(BOLD, LABEL_PT)
        canvas.drawString(LABEL_X, y, mark.shown)
        x = LABEL_X + width_pt(mark.shown, BOLD, LABEL_PT) + 3
        room = self.width - x
        canvas.setFont(REGULAR, LABEL_PT)
        words = f"{mark.said} {mark.when}".strip()
        size = LABEL_PT
        while width_pt(words, REGULAR, size) > room and size > 6:
            size -= 0.25
        canvas.setFont(REGULAR, size)
        canvas.drawString(x, y, cut(words, size, room))


def spread(wanted: list[float], lowest: float) -> list[float]:
    """Return label heights near the wanted ones (falling), none over another."""
    placed: list[float] = []
    for y in wanted:
        placed.append(min(y, placed[-1] - LABEL_GAP_PT) if placed else y)
    floor = lowest
    for n in range(len(placed) - 1, -1, -1):
        placed[n] = max(placed[n], floor)
        floor = placed[n] + LABEL_GAP_PT
    return placed


def cut(words: str, size_pt: float, room_pt: float, face: str = REGULAR) -> str:
    """Return the words, shortened with "…" if they are wider than the room.

    Only for labels of a drawing whose full words stand in the table beside it.
    """
    if width_pt(words, face, size_pt) <= room_pt:
        return words
    while words and width_pt(words + "…", face, size_pt) > room_pt:
        words = words[:-1]
    return words.rstrip() + "…"
