"""Values in words, against rows written by hand."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.declared import fields_of, vectors
from webapp.apart import apart
from webapp.catalogue.units import shown_unit
from webapp.catalogue.words import elapsed_words, words

READ = vectors("words")
FIELDS = fields_of(READ)


def name_of(row: dict[str, Any]) -> str:
    """Return a short name for a row, for the test's id."""
    value = json.dumps(row.get("value", row), ensure_ascii=True)[:60]
    return f"{row.get('field', '')}={value}"


@pytest.mark.parametrize("row", READ["rows"], ids=name_of)
def test_a_value_is_told_in_the_words_written_beside_it(row: dict[str, Any]) -> None:
    assert words(FIELDS[row["field"]], row["value"], row.get("day")) == row["words"]


@pytest.mark.parametrize("row", READ["rows"], ids=name_of)
def test_a_screen_keeps_what_was_typed_apart(row: dict[str, Any]) -> None:
    told = words(FIELDS[row["field"]], row["value"], row.get("day"), apart)
    assert told == row.get("apart", row["words"])


@pytest.mark.parametrize("row", READ["elapsed"], ids=name_of)
def test_elapsed_time_is_told_in_whole_units(row: dict[str, Any]) -> None:
    assert elapsed_words(row["seconds"]) == row["words"]


@pytest.mark.parametrize("row", READ["units"], ids=name_of)
def test_a_unit_is_shown_as_it_is_read_aloud(row: dict[str, Any]) -> None:
    assert shown_unit(row["unit"]) == row["shown"]


@given(st.integers(min_value=-(10**9), max_value=10**9))
def test_elapsed_time_never_looks_like_a_time_of_day(seconds: int) -> None:
    assert ":" not in elapsed_words(seconds)


@given(st.text())
def test_words_never_hold_a_control_character(text: str) -> None:
    told = words(FIELDS["note"], text)
    assert not any(ord(c) < 32 and c not in "\t\n" for c in told)
