"""What the note computes stands beside what was typed, and is named as computed."""

from __future__ import annotations

import pytest

from tests.support.notes import made_from, told_case
from webapp.catalogue import CATALOGUE
from webapp.clinical.policy import load
from webapp.note.blocks import Block, Line, Rows
from webapp.note.parts import part_blocks
from webapp.note.sources import sources_of


def blocks(name: str, part: str) -> list[Block]:
    return part_blocks(sources_of(told_case(name), load()), CATALOGUE.part(part))


def test_the_mean_pressure_stands_beside_both_and_is_named_computed() -> None:
    """published-cases.md CR-03: 80/40, 53 mmHg."""
    found = [b for b in blocks("published/CR-03", "indication") if isinstance(b, Rows)]
    [told] = [b for b in found if "Mean pressure, computed" in b.columns]
    [row] = told.rows
    at = told.columns.index("Mean pressure, computed")
    assert row[at].words == "53\u00a0mmHg"


def test_no_mean_pressure_is_printed_where_none_was_measured() -> None:
    """published-cases.md CR-08: a heart rate alone."""
    found = blocks("published/CR-08", "indication")
    assert not [
        b
        for b in found
        if isinstance(b, Rows) and "Mean pressure, computed" in b.columns
    ]


def test_days_without_hours_stay_days_in_print() -> None:
    """published-cases.md CR-07: admission to day 6, about 6 days."""
    found = [b for b in blocks("published/CR-07", "removal") if isinstance(b, Line)]
    said = [b.said[0].words for b in found if b.label == "Time in place, computed"]
    assert said == ["about 6 days, hours not known"]


@pytest.mark.parametrize("name", ["published/CR-06", "published/CR-08"])
def test_no_time_in_place_is_printed_where_the_end_is_not_known(name: str) -> None:
    assert "Time in place" not in made_from(name).text
