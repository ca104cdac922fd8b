"""The time ruler as drawn: its words can be read."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.support.notes import FIXTURES, told_case
from webapp.record.timeline import timeline
from webapp.views.timeline_drawing import LETTER, Mark, draw

# What a case's second tablet tells has no moment of its own.
CASES = sorted(
    f.stem for f in (FIXTURES / "demo").glob("*.json") if f.stem[-2:] != "-b"
)


def span(mark: Mark) -> tuple[int, int]:
    """Return where a flag's words begin and end."""
    long = len(mark.text) * LETTER
    return (mark.x - long, mark.x) if mark.anchor == "end" else (mark.x, mark.x + long)


@pytest.mark.parametrize("name", CASES)
def test_no_moment_is_written_over_another(name):
    line = timeline(told_case(f"demo/{name}"))
    assert line is not None
    for one, other in combinations(draw(line, "America/Chicago").flags, 2):
        (a, b), (c, d) = span(one), span(other)
        assert one.y != other.y or b <= c or d <= a, (one.text, other.text)


@pytest.mark.parametrize("name", CASES)
def test_a_moment_without_room_is_counted_among_those_told_below(name):
    line = timeline(told_case(f"demo/{name}"))
    assert line is not None
    drawing = draw(line, "America/Chicago")
    assert len(drawing.flags) + drawing.others == len(line.flags) + line.others
