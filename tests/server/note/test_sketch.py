"""A signature drawn on the tablet, on paper."""

from __future__ import annotations

import pytest

from tests.server.note.pencil import sketched
from webapp.note.sketch import HIGHEST_PT, WIDEST_PT, HandDrawing


def drawing(width: int, height: int, *strokes: list[list[int]]) -> HandDrawing:
    return HandDrawing({"width": width, "height": height, "strokes": list(strokes)})


@pytest.mark.parametrize(("w", "h"), [(600, 200), (1, 1), (8000, 200), (10, 10000)])
def test_a_drawing_of_any_shape_fits_and_keeps_its_proportion(w: int, h: int) -> None:
    made = drawing(w, h, [[0, 0], [w, h]])
    assert made.width <= WIDEST_PT + 1e-9
    assert made.height <= HIGHEST_PT + 1e-9
    assert made.width / made.height == pytest.approx(w / h)


def test_the_top_of_the_screen_is_the_top_of_the_paper() -> None:
    made = drawing(600, 200, [[0, 0], [600, 200]])
    points = sketched(made).points
    assert points == [(0.0, made.height), (made.width, pytest.approx(0.0))]


def test_a_dot_leaves_ink() -> None:
    assert len(sketched(drawing(600, 200, [[300, 100]])).points) == 2
