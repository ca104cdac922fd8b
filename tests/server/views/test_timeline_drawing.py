"""The time ruler as drawn: its words can be read."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.support.notes import FIXTURES, told_case
from webapp.record.timeline import Timeline, timeline
from webapp.record.timeline_bars import DRUGS, Bar
from webapp.views.timeline_drawing import (
    LETTER,
    OUTPUT_HEIGHT,
    OUTPUT_TOP,
    Mark,
    draw,
)

OUTPUT_FOOT = OUTPUT_TOP + OUTPUT_HEIGHT

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
    drawn = len(drawing.flags) + sum(len(lane.bars) for lane in drawing.lanes)
    told = len(line.flags) + len(line.bars)
    assert drawn + drawing.others == told + line.others


@pytest.mark.parametrize("name", CASES)
def test_no_bar_and_no_words_of_it_lie_over_another(name):
    drawing = draw(timeline(told_case(f"demo/{name}")), "America/Chicago")
    bars = [bar for lane in drawing.lanes for bar in lane.bars]
    for one, other in combinations(bars, 2):
        (a, b), (c, d) = one.span, other.span
        assert one.y != other.y or b <= c or d <= a, (one.text, other.text)


@pytest.mark.parametrize("name", CASES)
def test_lanes_lie_under_the_output_and_inside_the_picture(name):
    drawing = draw(timeline(told_case(f"demo/{name}")), "America/Chicago")
    for lane in drawing.lanes:
        assert all(OUTPUT_FOOT < bar.y < drawing.height for bar in lane.bars)
        assert all(drawing.left <= bar.x <= drawing.right for bar in lane.bars)


def crowded(count):
    """Return a timeline of so many drugs in one minute, and one infusion unstopped."""
    drugs = [Bar(DRUGS, n * 100, None, False, f"Drug {n}", False) for n in range(count)]
    infusion = Bar(DRUGS, -60_000, None, True, "Infusion", True)
    return Timeline(0, 600_000, (), (), (), 0, (infusion, *drugs))


def test_drugs_without_room_are_counted_among_those_told_below():
    drawing = draw(crowded(9), "America/Chicago")
    [lane] = drawing.lanes
    assert len(lane.bars) + drawing.others == 10
    assert drawing.others > 0


def test_what_began_before_the_ruler_and_did_not_stop_has_neither_end():
    drawing = draw(crowded(0), "America/Chicago")
    [bar] = drawing.lanes[0].bars
    assert (bar.has_start, bar.has_end) == (False, False)
    assert (bar.x, bar.x + bar.width) == (drawing.left, drawing.right)
    assert bar.text == "about: Infusion"
    assert drawing.has_open


def test_a_case_without_drugs_has_no_lane():
    assert draw(Timeline(0, 600_000, (), (), (), 0), "America/Chicago").lanes == ()
