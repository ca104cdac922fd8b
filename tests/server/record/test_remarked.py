"""Remarks in words, over every worked example: placed, worded, and by their weight."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

import pytest

from tests.support.clinical_told import fold_of
from tests.support.clinical_vectors import worked
from webapp.catalogue import CATALOGUE
from webapp.clinical.policy import load
from webapp.clinical.remarks import HEAVIER
from webapp.note.remarks import FirstRemarks, first_remarks, remark_blocks
from webapp.note.sources import sources_of
from webapp.record.case import Case
from webapp.record.page import page
from webapp.record.remarked import Remarked, remarked
from webapp.say import SAY

# ux section 11, and the words a remark is never called by.
NEVER = ("advice", "alert", "warning", "overruled", "dismissed", "should", "must")
PULLS = re.compile(r"(?<!do not )\b(pull|withdraw|remov)\w*", re.IGNORECASE)
DOWN = re.compile(r"balloon (fully )?down", re.IGNORECASE)
OURS = {
    key: text
    for key, text in SAY.items()
    if key.startswith(("remarks.", "note.remark", "note.entries_run"))
}


@cache
def cases() -> tuple[Case, ...]:
    """Return the record of every worked example that tells one."""
    told = (
        case["input"]["told"]
        for found in worked().values()
        for case in found
        if isinstance(case["input"], dict)
        and isinstance(case["input"].get("told"), list)
    )
    return tuple(Case(fold_of(entries), CATALOGUE) for entries in told)


@cache
def found() -> tuple[tuple[Remarked, ...], ...]:
    """Return the remarks on each of these records."""
    return tuple(remarked(case, load()) for case in cases())


def bare_pulls(text: str) -> list[str]:
    """Return the sentences that pull a wire back and say no balloon down before."""
    return [
        sentence
        for sentence in re.split(r"(?<=[.?!;])\s", text)
        if (pull := PULLS.search(sentence))
        and not sentence.endswith("?")
        and not DOWN.search(sentence[: pull.start()])
    ]


def test_the_worked_examples_hold_many_remarks_of_each_weight() -> None:
    weights = [remark.weight for told in found() for remark in told]
    assert min(weights.count(weight) for weight in HEAVIER) > 50


def test_every_remark_stands_at_a_field_that_the_desk_has_a_line_for() -> None:
    lost = [
        (remark.found.name, remark.path)
        for case, told in zip(cases(), found(), strict=True)
        for remark in told
        if remark.path not in page(case, told).paths
    ]
    assert lost == []


def test_every_remark_names_its_field() -> None:
    assert [r.found.name for told in found() for r in told if not r.place] == []


def test_heavier_ones_come_first_and_what_stands_before_what_was_put_right() -> None:
    for told in found():
        order = [(HEAVIER.index(r.weight), not r.stands) for r in told]
        assert all(a <= b for a, b in pairwise(order))


def test_nothing_is_left_to_be_filled_in() -> None:
    texts = {t for told in found() for r in told for t in shown(r)}
    assert [text for text in texts if "{" in text or "}" in text] == []


def shown(remark: Remarked) -> tuple[str, ...]:
    """Return the pieces that stand alone on page or paper."""
    return remark.finding, remark.asks, remark.more, remark.limits


def test_nothing_shown_alone_pulls_a_wire_back_without_balloon_down_before() -> None:
    texts = {t for told in found() for r in told for t in shown(r)} | set(OURS.values())
    assert [bare for text in texts for bare in bare_pulls(text)] == []


def test_a_sentence_that_pulls_back_with_the_balloon_up_would_be_found() -> None:
    assert bare_pulls("Fits. Pull back to 20 cm; balloon down.")
    assert not bare_pulls("Policy asks: balloon down, then pull back.")


@pytest.mark.parametrize("word", NEVER)
def test_desk_and_paper_never_call_a_remark_so(word: str) -> None:
    said = re.compile(rf"\b{word}\w*", re.IGNORECASE)
    assert [key for key, text in OURS.items() if said.search(text)] == []


def test_every_limit_that_decided_one_stands_with_its_source() -> None:
    bare = [
        (remark.found.name, key)
        for told in found()
        for remark in told
        for key in remark.found.remark.limits
        if load().rows[key].source not in remark.limits
    ]
    assert bare == []


def test_page_one_says_no_more_than_three_and_counts_the_rest() -> None:
    for case, told in zip(cases(), found(), strict=True):
        first = first_remarks(sources_of(case, load()))
        left = [remark for remark in told if remark.is_open]
        assert len(first.lines) == min(3, len(left))
        assert len(first.lines) + first.more == len(left)


def test_paper_holds_each_heavy_remark_of_every_example() -> None:
    for case, told in zip(cases(), found(), strict=True):
        blocks = remark_blocks(sources_of(case, load()))[2:]
        heavy = [remark for remark in told if remark.asks_answer]
        assert len(blocks) == len(heavy)


def test_a_record_with_nothing_found_has_no_lines_on_page_one() -> None:
    assert first_remarks(sources_of(Case(fold_of([]), CATALOGUE), load())) == (
        FirstRemarks((), 0)
    )
