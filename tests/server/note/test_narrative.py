"""The composed account: every sentence from a field, none invented, none dangerous."""

from __future__ import annotations

import re

import pytest

from tests.support.notes import told_case
from tests.support.records import Recording
from webapp.clinical.policy import load
from webapp.note.blocks import Prose
from webapp.note.narrative import narrative_blocks
from webapp.note.sources import sources_of
from webapp.record.case import Case
from webapp.texts.note import NOTE

PULLING = re.compile(r"pull(ing|ed)? (it )?back|withdraw|remove (the )?wire", re.I)


def account(case: Case) -> str:
    blocks = narrative_blocks(sources_of(case, load()))
    return " ".join(b.words for b in blocks if isinstance(b, Prose))


def test_every_sentence_about_pulling_a_wire_back_has_the_balloon_down_first() -> None:
    """clinical.md V7, over every text of the note."""
    for key, text in NOTE.items():
        for sentence in re.split(r"(?<=[.!?])\s", text):
            found = PULLING.search(sentence)
            if found:
                before = sentence[: found.start()].lower()
                assert "balloon down" in before or "balloon fully down" in before, key


def test_no_text_of_the_note_calls_anything_safe_or_orders_anything() -> None:
    """ux.md section 11: words a remark never uses."""
    banned = re.compile(r"\b(safe|correct|normal|should|must|please|error)\b", re.I)
    allowed = {"note.struck"}  # "Entered in error" is the term of the record
    for key, text in NOTE.items():
        if key not in allowed and "clock" not in key:
            assert not banned.search(text), (key, text)
        assert "!" not in text, key


def test_an_empty_record_is_told_as_not_asked_and_nothing_else() -> None:
    text = account(Recording().case)
    for words in ("Main rhythm: not asked.", "Site and side: not asked.",
                  "No depth reading was recorded.", "Threshold not tested.",
                  "Outcome of the procedure: not asked."):  # fmt: skip
        assert words in text
    assert not re.search(r"\d", text.replace("“AB for CD”", ""))


@pytest.mark.parametrize("name", ["published/CR-01", "published/CR-02"])
def test_every_number_of_the_account_is_in_the_record(name: str) -> None:
    case = told_case(name)
    known = set(re.findall(r"\d+", repr(case.fold["values"]) + repr(case.fold["rows"])))
    times = {n for e in case.fold["entries"].values()
             for n in re.findall(r"\d+", str(e["at"]))}  # fmt: skip
    for number in re.findall(r"\d+", account(case)):
        assert number in known | times or number.lstrip("0") in known | times, number


def test_what_was_not_stated_stays_not_stated() -> None:
    text = account(told_case("published/CR-01"))
    assert "Access: not stated by case report." in text
    assert "Final depth: not stated by case report." in text


def test_two_answers_are_both_told() -> None:
    record = Recording()
    wire = record.wire({"advance.final_depth": {"as": "34", "n": "34", "unit": "cm"}})
    other = {"as": "36", "n": "36", "unit": "cm"}
    record.says(f"wires/{wire}/advance.final_depth", other, by="nurse")
    text = account(record.case).replace("\u00a0", " ")
    assert "Final depth: 34 cm or 36 cm." in text


def test_each_of_two_wires_has_its_own_account() -> None:
    record = Recording()
    record.wire({"approach.site": "internal_jugular_right"})
    record.wire({"approach.site": "femoral_left"})
    text = account(record.case)
    assert "Wire 1: Access: internal jugular, right." in text
    assert "Wire 2: Access: femoral, left." in text
