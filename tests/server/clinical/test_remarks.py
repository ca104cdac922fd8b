"""Remarks: short, in words that order nothing and promise nothing."""

from __future__ import annotations

import re

import pytest

from tests.support.clinical_calls import call
from tests.support.clinical_generated import Generated
from tests.support.clinical_vectors import worked
from webapp.clinical import policy
from webapp.clinical.case_remarks import AREAS
from webapp.clinical.policy import exported
from webapp.clinical.remarks import Remark, asks, finding, heavier_first, source_line
from webapp.say import SAY

CLINICAL = {key: text for key, text in SAY.items() if key.startswith("clinical.")}
# ux section 11: words a remark never uses.
NEVER = ("safe", "correct", "normal", "error", "should", "must")
LONGEST_FINDING = 46
# A number with its unit, its count, or a class by its number.
UNIT = re.compile(
    r"\d ?(mA|mV|V|×|/min|s|min|h|d|cm|mg|mL|%|µg/min|µg/kg/min|mmol/L|mg/dL|°C|°F"
    r"|kg|×10⁹/L|Fr|failed passes|without unit)(?!\w)|(class|INR|pH) \d"
)
# The functions whose results hold remarks.
RESULTS = (
    "threshold_summary",
    "sensing_remarks",
    "case_remarks",
    *(f"in_{area}" for area in AREAS),
)


def all_remarks() -> list[Remark]:
    """Return what generated inputs and the worked examples make."""
    source = Generated(46)
    calls = source.calls(900)
    calls += [("threshold_summary", source.told()) for _ in range(200)]
    calls += [
        (case["function"], case["input"])
        for cases in worked().values()
        for case in cases
        if case["function"] in RESULTS
    ]
    told = [call(*one) for one in calls]
    found = [r for one in told if isinstance(one, dict) for r in one.get("remarks", [])]
    listed = [r for one in told if isinstance(one, list) for r in one]
    found += [r.get("remark", r) for r in listed if "code" in r.get("remark", r)]
    return [Remark(**{**r, "limits": tuple(r["limits"])}) for r in found]


@pytest.fixture(scope="module")
def remarks() -> list[Remark]:
    return all_remarks()


def test_every_remark_made_has_words_and_leaves_nothing_unfilled(remarks) -> None:
    told = {finding(r, SAY) + asks(r, SAY) for r in remarks}
    assert not [text for text in told if "{" in text or "}" in text]


def test_every_remark_with_words_is_made_somewhere(remarks) -> None:
    made = {f"clinical.remark.{r.code}" for r in remarks}
    written = {key for key in CLINICAL if key.startswith("clinical.remark.")}
    assert made == written


def test_a_finding_of_ordinary_numbers_has_at_most_46_characters(remarks) -> None:
    ordinary = re.compile(r"^(\d{1,2}(\.\d)?|\d{1,2}\.\d{1} ×|mA|V|\d{2,3}|\d)$")
    told = {
        finding(r, SAY)
        for r in remarks
        if all(ordinary.match(value) for value in r.values.values())
    }
    assert len(told) > 200
    assert [text for text in told if len(text) > LONGEST_FINDING] == []


def test_no_clinical_word_orders_or_promises() -> None:
    said = [
        (key, word)
        for key, text in CLINICAL.items()
        for word in NEVER
        if re.search(rf"\b{word}\w*\b", text, re.IGNORECASE)
    ]
    assert said == []


def test_every_sentence_that_pulls_a_wire_says_balloon_down_before() -> None:
    # "Do not pull" forbids it: nothing is pulled.
    pulls = re.compile(r"(?<!do not )\b(pull|withdraw|remov)\w*", re.IGNORECASE)
    down = re.compile(r"balloon (fully )?down", re.IGNORECASE)
    bare = [
        (key, sentence)
        for key, text in CLINICAL.items()
        for sentence in re.split(r"(?<=[.?!])\s", text)
        if (pull := pulls.search(sentence))
        and not sentence.endswith("?")
        and not down.search(sentence[: pull.start()])
    ]
    assert bare == []


def test_every_remark_ends_with_who_decides(remarks) -> None:
    rows = exported(policy.load())["rows"]
    for remark in remarks:
        told = source_line(remark, rows, SAY)
        assert told.endswith("Local protocol and the treating clinician decide.")
        assert len(told) > 60 or not remark.limits


def test_no_number_stands_without_its_unit(remarks) -> None:
    for remark in remarks:
        text = finding(remark, SAY)
        if re.search(r"\d", text):
            assert UNIT.search(text), text


def test_heavier_remarks_come_first_and_none_twice() -> None:
    light, heavy = Remark("a", "fits"), Remark("b", "look_now")
    middle = Remark("c", "look_again")
    assert heavier_first([light, middle, heavy, light]) == (heavy, middle, light)
