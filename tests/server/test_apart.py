"""Typed text keeps its own reading order, and leaves that of others alone."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.declared import vectors
from webapp.apart import apart
from webapp.say import say, say_apart

ROWS = vectors("apart")["rows"]
SIGNS = "a\u05d0\u2066\u2067\u2068\u2069\u202a\u202b\u202c\u202d\u202e\u200f\n\u2029"


def _depths(line):
    """Return the depth of isolation before each sign of a line, and after the last."""
    depths = [0]
    for sign in line:
        step = {"\u2066": 1, "\u2067": 1, "\u2068": 1, "\u2069": -1}.get(sign, 0)
        depths.append(depths[-1] + step)
    return depths


@pytest.mark.parametrize("row", ROWS, ids=lambda row: json.dumps(row["text"]))
def test_text_is_shown_as_written_beside_it(row):
    assert apart(row["text"]) == row["shown"]


@given(st.text(SIGNS, max_size=12))
def test_whatever_is_typed_neither_ends_its_isolate_early_nor_leaves_it_open(text):
    for line in apart(text).replace("\u2029", "\n").split("\n"):
        depths = _depths(line)
        assert depths[-1] == 0
        assert min(depths) == 0
        turns = [sign not in "a" for sign in line]
        inside = [depth > 0 for depth in depths[1:-1]]
        assert all(inside) or not any(turns)


@given(st.text(SIGNS, max_size=12))
def test_no_typed_sign_is_lost_or_moved(text):
    shown = iter(apart(text))
    assert all(sign in shown for sign in text)


def test_words_of_ours_keep_their_place_round_a_name():
    told = say_apart("review.entered_by", name="\u202eabc")
    assert told == say("review.entered_by", name="\u2068\u202eabc\u2069")
    assert say_apart("review.n_entries", n=3) == say("review.n_entries", n=3)
