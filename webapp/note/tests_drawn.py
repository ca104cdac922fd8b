"""Threshold tests as blocks: each with its caption, ready to be drawn."""

from __future__ import annotations

from webapp.note.blocks import Block, Tested
from webapp.note.sources import Sources
from webapp.note.threshold import wire_tests
from webapp.record.case import Wire

DRAWN_BEFORE = "output_reading"


def tests_drawn(sources: Sources, wire: Wire, part: str) -> list[Block]:
    """Return one drawing for each threshold test of a wire in one part."""
    return [
        Tested(test.caption, test.marks)
        for test in wire_tests(sources, wire).tests
        if test.part == part
    ]
