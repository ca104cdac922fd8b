"""Coded facts are candidates: no claim, no billing number, nothing assumed."""

from __future__ import annotations

import pytest

from tests.support.notes import made, note_of, told_case
from tests.support.records import Recording
from webapp.clinical.policy import load
from webapp.note.blocks import Heading, Line, Prose
from webapp.note.codes_block import code_blocks
from webapp.note.gaps import gaps
from webapp.note.model import CodeFact
from webapp.note.sources import sources_of


def blocks(*facts: CodeFact) -> list:
    record = Recording()
    record.says("indication.main_rhythm", "complete_av_block")
    sources = sources_of(record.case, load())
    note = note_of(record.case, code_facts=facts)
    return code_blocks(note, sources, gaps(sources))


def test_four_blocks_stand_under_the_fixed_heading() -> None:
    """coding.md section 4."""
    titles = [b.words for b in blocks() if isinstance(b, Heading)]
    assert titles == [
        "Coded facts for the coder (candidates, not a claim)",
        "Diagnoses as stated",
        "Procedure as done",
        "Separately evidenced",
        "Not recorded",
    ]


def test_a_fact_prints_words_code_edition_who_and_its_entries() -> None:
    record = Recording()
    entry = record.says("indication.main_rhythm", "complete_av_block")
    fact = CodeFact("diagnosis", "Complete AV block", "I44.2", "FY2026-Apr", True,
                    "E. Tarn-Example", (entry,))  # fmt: skip
    text = made(record.case, code_facts=(fact,)).text
    assert "I44.2 FY2026-Apr" in text
    assert "stated by E. Tarn-Example, entries 1" in text


def test_a_code_not_confirmed_for_the_date_says_so() -> None:
    fact = CodeFact("diagnosis", "Complete AV block", "I44.2", "FY2026-Apr", False)
    (line,) = [b for b in blocks(fact) if isinstance(b, Line) and "I44.2" in b.label]
    assert "not confirmed for the date of service" in line.said[0].words


@pytest.mark.parametrize("code", ["33210", "76937", "99291", "C1779", "0075T"])
def test_no_billing_number_is_printed_whatever_comes_in(code: str) -> None:
    """coding.md section 4: no CPT or HCPCS number in the note."""
    found = blocks(CodeFact("procedure", "Wire placed", code, "2026", True))
    assert code not in repr(found)


@pytest.mark.parametrize("code", ["I44.2", "I21.A1", "T80.1XXA", "R00.1"])
def test_a_diagnosis_code_is_printed(code: str) -> None:
    found = blocks(CodeFact("diagnosis", "words", code, "FY2026-Apr", True))
    assert code in repr(found)


def test_nothing_evidenced_says_none_recorded() -> None:
    prose = [b.words for b in blocks() if isinstance(b, Prose)]
    assert prose.count("None recorded.") == 3


def test_not_recorded_lists_field_words_under_their_parts() -> None:
    lines = [(b.label, b.said[0].words) for b in blocks() if isinstance(b, Line)]
    under = {part: [w for p, w in lines if p == part] for part, _ in lines}
    assert "Guidewires opened" in under["Approach"][0]
    assert not any("Main rhythm" in words for words in under["Indication"])


def test_a_published_case_prints_no_billing_number() -> None:
    text = made(told_case("published/CR-01")).text
    for number in ("33210", "33211", "76937", "99291", "5A12"):
        assert number not in text
