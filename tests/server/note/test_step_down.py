"""The threshold test drawn as it was read, in equal rungs."""

from __future__ import annotations

import itertools
from fractions import Fraction

from tests.server.note.pencil import sketched
from webapp.note.step_down import OutputMark, StepDown, StepMarks, step_downs

WIDTH = 350.0


def marks(*told: tuple[str, str], low: str = "", high: str = "") -> StepMarks:
    readings = tuple(OutputMark(Fraction(n), n, result) for n, result in told)
    return StepMarks(
        readings,
        Fraction(low) if low else None,
        Fraction(high) if high else None,
    )


CLEAN = marks(
    ("10", "captures"), ("5", "captures"), ("1.2", "captures"), ("1.0", "no_capture"),
    ("1.2", "captures"), low="1.0", high="1.2",
)  # fmt: skip


def test_numbers_stand_in_the_order_read_with_the_decimals_given() -> None:
    drawn = sketched(StepDown(CLEAN, WIDTH))
    numbers = [(x, w) for x, _, w in drawn.texts if w[0].isdigit()]
    assert [w for _, w in sorted(numbers)] == ["10", "5", "1.2", "1.0", "1.2"]


def test_rungs_are_equal_whatever_the_numbers() -> None:
    made = StepDown(CLEAN, WIDTH)
    heights = [made.y(Fraction(n)) for n in ("10", "5", "1.2", "1.0")]
    steps = {round(a - b, 6) for a, b in itertools.pairwise(heights)}
    assert len(steps) == 1
    assert steps.pop() > 0


def test_a_capture_is_a_disc_and_a_loss_an_open_square_below_it() -> None:
    made = StepDown(CLEAN, WIDTH)
    drawn = sketched(made)
    discs = [c for c in drawn.circles if c[3] == 0]
    assert len([c for c in discs if c[1] != made.height - 8]) == 4
    squares = [r for r in drawn.rects if abs(r[2] - r[3]) < 1e-9]
    assert made.y(Fraction("1.0")) in [round(y + h / 2, 6) for _, y, _, h in squares]


def test_the_bracket_lies_between_what_was_lost_and_what_captures() -> None:
    made = StepDown(CLEAN, WIDTH)
    band = sketched(made).rects[0]
    assert band[1] == made.y(Fraction("1.0"))
    assert band[1] + band[3] == made.y(Fraction("1.2"))


def test_no_bracket_is_drawn_for_outputs_nobody_read() -> None:
    told = marks(("2", "captures"), ("1.5", "captures"), low="0.5", high="1.5")
    assert not [r for r in sketched(StepDown(told, WIDTH)).rects if r[2] == WIDTH]


def test_only_the_results_that_occur_are_explained() -> None:
    words = sketched(StepDown(CLEAN, WIDTH)).words
    assert "captures" in words
    assert "no capture" in words
    assert "can't tell" not in words


def test_a_long_test_takes_several_lines_and_loses_no_reading() -> None:
    told = marks(*[(str(n), "captures") for n in range(40, 0, -1)])
    drawings = step_downs(told, WIDTH)
    assert len(drawings) == 3
    numbers = [w for d in drawings for w in sketched(d).words if w.isdigit()]
    assert numbers == [str(n) for n in range(40, 0, -1)]
    for drawing in drawings:
        assert max(x for x, _, _ in sketched(drawing).texts) <= WIDTH


def test_one_reading_alone_is_drawn() -> None:
    assert "3.0" in sketched(StepDown(marks(("3.0", "captures")), WIDTH)).words
