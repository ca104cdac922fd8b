"""Opposites differ in shape, not in colour alone."""

from __future__ import annotations

from tests.server.note.pencil import Pencil
from webapp.note.drawings import draw_lead, draw_result


def shape_of(result: str) -> tuple[int, int, int]:
    pencil = Pencil()
    draw_result(pencil, 50, 50, result)
    return len(pencil.circles), len(pencil.rects), len(pencil.points)


def test_the_three_results_and_none_said_have_four_shapes() -> None:
    results = ("captures", "no_capture", "cannot_tell", "")
    drawn = {(shape_of(r), _is_filled(r)) for r in results}
    assert len(drawn) == 4


def _is_filled(result: str) -> bool:
    pencil = Pencil()
    draw_result(pencil, 50, 50, result)
    return bool(pencil.circles) and pencil.circles[0][3] == 0


def test_the_lead_ends_at_the_tip() -> None:
    pencil = Pencil()
    draw_lead(pencil, 34, 100, height=17)
    assert min(y for _, y in pencil.points) >= 100
    assert {round(x, 2) for x, _ in pencil.points} & {34 - 0.42 * 17, 34 + 0.42 * 17}
