"""Remarks in print: each with weight, evidence, limit and answer, heavier first."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from tests.support.notes import FIXTURES, Read, flat, made, note_of, told_case
from tests.support.records import Recording
from tests.support.remarked_notes import (
    Printed,
    head_of,
    on_page_one,
    section,
    section_page,
)
from webapp.clinical.policy import load
from webapp.note.build import build_note
from webapp.note.casewords import main_day
from webapp.note.remarks import entry_places
from webapp.record.case import Case
from webapp.record.remark_times import as_at_words
from webapp.record.remarked import Remarked, remarked

CASES = sorted(f"demo/{file.stem}" for file in (FIXTURES / "demo").glob("*.json"))
REASON = "the second bag was never opened"
LIDOCAINE = "Look now: Lidocaine 600 mg, over 247.5 mg"


def quantity(n: str, unit: str) -> dict[str, str]:
    return {"as": n, "n": n, "unit": unit}


@pytest.fixture
def over() -> Recording:
    """A record with one remark of weight Look now, on its third entry."""
    record = Recording()
    record.says("patient.age_class", "adult")
    record.says("patient.weight", quantity("55", "kg"))
    strength = {"strength": quantity("2", "%"), "volume": quantity("30", "mL")}
    record.adds("approach.local_anaesthetic", {"agent": "lidocaine", **strength})
    return record


@cache
def case_of(name: str) -> Case:
    """Return a case, told once: its entries get other ids each time."""
    return told_case(name)


@cache
def note_made(name: str) -> Read:
    """Return a case's note, read back."""
    return made(case_of(name))


def heavier(name: str) -> list[Remarked]:
    """Return a case's remarks of weight Look now and Look again."""
    found = remarked(case_of(name), load())
    return [remark for remark in found if remark.asks_answer]


def answered(record: Recording, **said: str) -> Recording:
    """Answer the record's one heavy remark."""
    [remark] = [r for r in remarked(record.case, load()) if r.asks_answer]
    value = {"answer": "seen_otherwise", "evidence": remark.evidence, **said}
    record.adds(remark.answers_path, value, by="supervisor")
    return record


def printed(record: Recording) -> Printed:
    [one] = section(made(record.case))
    return one


@pytest.mark.parametrize("case", CASES)
def test_the_section_holds_each_heavy_remark_heavier_first(case: str) -> None:
    found = [one.words for one in section(note_made(case))]
    assert found == [f"{r.word}: {r.finding}" for r in heavier(case)]
    weights = [words.startswith("Look again") for words in found]
    assert all(a <= b for a, b in pairwise(weights))


@pytest.mark.parametrize("case", CASES)
def test_each_remark_prints_its_entries_limit_and_what_policy_asks(case: str) -> None:
    order = case_of(case).fold["order"]
    told = zip(section(note_made(case)), heavier(case), strict=True)
    for one, remark in told:
        places = entry_places(order.index(i) + 1 for i in remark.found.evidence)
        word = "entries" if len(remark.found.evidence) > 1 else "entry"
        assert f"Rests on {word} {places}." in one.text
        assert flat(remark.limits) in one.text
        assert remark.asks in one.text
        assert one.text.count(remark.place) >= 1


@pytest.mark.parametrize("case", CASES)
def test_each_remark_prints_the_time_of_day_of_what_it_rests_on(case: str) -> None:
    day = main_day(case_of(case))
    told = zip(section(note_made(case)), heavier(case), strict=True)
    assert [r.found.name for one, r in told if words_of(r, day) not in one.text] == []


def words_of(remark: Remarked, day: str) -> str:
    words = as_at_words(remark.as_at, day)
    assert words
    return words


@pytest.mark.parametrize("case", CASES)
def test_what_was_put_right_is_said_and_nothing_else_is_said_so(case: str) -> None:
    found = [("Put right since." in one.text) for one in section(note_made(case))]
    assert found == [not remark.stands for remark in heavier(case)]


@pytest.mark.parametrize("case", CASES)
def test_page_one_lists_at_most_three_that_stand_and_are_not_answered(
    case: str,
) -> None:
    note = note_made(case)
    left = [r for r in heavier(case) if r.is_open]
    *lines, last = on_page_one(note) or [""]
    assert lines == [f"{r.word}: {r.finding}" for r in left[:3]]
    more, page = len(left) - len(lines), section_page(note)
    says = f"And {more} more on page {page}." if more else f"In full on page {page}."
    assert last == (says if left else "")


def test_more_than_three_not_answered_are_counted_and_their_page_is_named() -> None:
    note = note_made("demo/5-half-entered")
    left = [remark for remark in heavier("demo/5-half-entered") if remark.is_open]
    *lines, last = on_page_one(note)
    assert len(left) > len(lines) == 3
    assert last == f"And {len(left) - 3} more on page {section_page(note)}."


@pytest.mark.parametrize("case", CASES)
def test_what_only_fits_is_in_no_list(case: str) -> None:
    note = note_made(case)
    found = [*(one.words for one in section(note)), *on_page_one(note)]
    assert [words for words in found if words.startswith("Fits")] == []


@pytest.mark.parametrize("case", CASES)
def test_the_section_says_the_version_of_the_limits_once(case: str) -> None:
    note = note_made(case)
    told = " ".join([head_of(note), *(one.text for one in section(note))])
    assert told.count("limits version 1") == 1
    assert "Local protocol and the treating clinician decide." in told


def test_a_remark_that_nobody_answered_says_so(over: Recording) -> None:
    assert printed(over).words == LIDOCAINE
    assert "Not answered." in printed(over).text
    assert on_page_one(made(over.case)) == [
        LIDOCAINE,
        f"In full on page {section_page(made(over.case))}.",
    ]


def test_an_answer_stands_under_its_remark_with_reason_person_time_and_entry(
    over: Recording,
) -> None:
    one = printed(answered(over, because=REASON))
    said = (
        f"Seen, chose otherwise, because {REASON} (03:00 I. Skerry-Example, entry 4)."
    )
    assert said in one.text
    assert "Not answered." not in one.text


def test_what_was_answered_leaves_page_one(over: Recording) -> None:
    assert on_page_one(made(answered(over).case)) == []


def test_every_answer_to_a_remark_is_printed_in_time(over: Recording) -> None:
    answered(over, because=REASON)
    one = printed(answered(over, answer="seen"))
    first, then = "Seen, chose otherwise", "Seen, done as asked"
    assert one.text.index(first) < one.text.index(then)


def test_an_answer_on_other_evidence_is_printed_and_answers_nothing(
    over: Recording,
) -> None:
    answered(over, because=REASON)
    strength = {"strength": quantity("2", "%"), "volume": quantity("5", "mL")}
    over.adds("approach.local_anaesthetic", {"agent": "lidocaine", **strength})
    note = made(over.case)
    [one] = section(note)
    assert one.words == "Look now: Lidocaine 700 mg, over 247.5 mg"
    assert "Not answered." in one.text
    assert REASON not in one.text
    assert REASON in note.text


def test_an_answer_with_its_remark_is_printed_in_no_second_place(
    over: Recording,
) -> None:
    note = made(answered(over, because=REASON).case)
    assert note.text.count(REASON) == 1


def test_a_reason_of_many_pages_is_printed_whole(over: Recording) -> None:
    reason = " ".join(f"word{n:04d}" for n in range(4000))
    note = made(answered(over, because=reason).case)
    # What stands on every page comes between; each word is there once.
    assert [n for n in range(4000) if note.text.count(f"word{n:04d}") != 1] == []


def test_of_several_wires_page_one_names_the_wire() -> None:
    record = Recording()
    record.says("patient.age_class", "adult")
    record.wire({})
    wire = record.wire({})
    path = f"wires/{wire}/capture.threshold_test"
    test = record.adds(path, {"kind": "full"})
    for output, result in (("2", "captures"), ("1", "no_capture")):
        reading = {"output": quantity(output, "mA"), "result": result}
        record.adds(f"wires/{wire}/capture.output_reading", {"of": test, **reading})
    lines = on_page_one(made(record.case))
    assert "Look again: Wide bracket, 1.0 to 2.0 mA (Wire 2)" in lines


def test_the_same_record_gives_the_same_bytes(over: Recording) -> None:
    answered(over, because=REASON)
    assert build_note(note_of(over.case)) == build_note(note_of(over.case))


def test_a_record_without_remarks_says_that_none_was_computed() -> None:
    note = made(Recording().case)
    assert section(note) == []
    assert "none of weight Look now or Look again." in head_of(note)


@pytest.mark.parametrize(
    ("places", "words"),
    [((), ""), ((3,), "3"), ((3, 4), "3, 4"), ((9, 3, 5, 4, 8), "3 to 5, 8, 9")],
)
def test_neighbouring_entries_are_said_together(places, words) -> None:
    assert entry_places(places) == words


def test_the_clean_adult_case_has_few_look_again_and_no_look_now() -> None:
    weights = [remark.weight for remark in heavier("demo/1-clean-emergency")]
    most = int(load().rows["look_again_clean_case_max"].value)
    assert weights.count("look_now") == 0
    assert weights.count("look_again") <= most
