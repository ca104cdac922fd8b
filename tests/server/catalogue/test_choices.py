"""Codes on answers: each one real, billable and of a system this file checks."""

from __future__ import annotations

import re
import warnings

import pytest

from tests.server.catalogue.walk import fields
from webapp.catalogue.model import Choice, Code

with warnings.catch_warnings():
    # The package reads its data by a call that Python 3.11 calls outdated.
    warnings.simplefilter("ignore", DeprecationWarning)
    import simple_icd_10_cm as icd

CODED = sorted(
    {
        (choice.code, code)
        for _, field in fields()
        for choice in field.choices
        for code in choice.codes
    },
    key=str,
)


def _choices(path: str) -> tuple[Choice, ...]:
    return dict(fields())[path].choices


@pytest.mark.parametrize(
    ("word", "code"), CODED, ids=[f"{w}-{c.code}" for w, c in CODED]
)
def test_every_code_is_a_billable_leaf_of_its_edition(word: str, code: Code) -> None:
    # Source: PyPI simple-icd-10-cm 1.5.0, the April 2026 release. Another system
    # or edition needs a check of its own here before it may appear.
    assert (code.system, code.edition) == ("ICD-10-CM", "FY2026-Apr")
    assert icd.is_valid_item(code.code)
    assert icd.is_leaf(code.code)


# What the package's own title or inclusion terms call the answer.
TERMS = [
    ("complete_av_block", "I44.2", "complete"),
    ("second_degree_type_1", "I44.1", "type I and II"),
    ("second_degree_type_2", "I44.1", "type I and II"),
    ("first_degree_av_block", "I44.0", "first degree"),
    ("sinus_bradycardia", "R00.1", "Sinus bradycardia"),
    ("torsades_bradycardia", "I47.21", "Torsades"),
    ("flutter", "I48.92", "flutter"),
    ("right_bundle_branch_block", "I45.10", "Right bundle-branch block NOS"),
    ("left_bundle_branch_block", "I44.7", "Left bundle-branch block"),
    ("sick_sinus", "I49.5", "Sick sinus"),
    ("long_qt", "I45.81", "Long QT"),
    ("paroxysmal", "I48.0", "Paroxysmal"),
    ("persistent", "I48.19", "Persistent atrial fibrillation, NOS"),
    ("long_standing", "I48.11", "Longstanding persistent"),
    ("permanent", "I48.21", "Permanent"),
    ("syncope", "R55", "Syncope"),
    ("hypotension", "I95.9", "Hypotension"),
    ("shock", "R57.9", "Shock, unspecified"),
    ("hyperkalaemia", "E87.5", "Hyperkalemia"),
    ("hypokalaemia", "E87.6", "Hypokalemia"),
    ("hypomagnesaemia", "E83.42", "Hypomagnesemia"),
    ("hypothermia", "T68.XXXA", "Hypothermia"),
    ("myxoedema_coma", "E03.5", "Myxedema coma"),
    ("kidney_injury", "N17.9", "Acute kidney injury"),
    ("lyme_carditis", "A69.29", "Lyme disease"),
    ("sarcoid", "D86.85", "Sarcoid myocarditis"),
    ("non_st_elevation", "I21.4", "NSTEMI"),
    ("type_2", "I21.A1", "type 2"),
    ("stage_3", "N18.30", "stage 3 unspecified"),
    ("stage_3a", "N18.31", "stage 3a"),
    ("stage_3b", "N18.32", "stage 3b"),
    ("stage_4", "N18.4", "stage 4"),
    ("delirium", "R41.0", "Delirium NOS"),
    ("long_term_anticoagulant", "Z79.01", "anticoagulants"),
]


@pytest.mark.parametrize(("word", "code", "term"), TERMS, ids=[t[0] for t in TERMS])
def test_an_answer_carries_the_code_whose_title_names_it(
    word: str, code: str, term: str
) -> None:
    assert (word, Code("ICD-10-CM", code, "FY2026-Apr")) in CODED
    titles = (
        icd.get_description(code),
        icd.get_description(icd.get_parent(code)),
        *icd.get_inclusion_term(code),
        *icd.get_inclusion_term(icd.get_parent(code)),
    )
    assert any(term.lower() in title.lower() for title in titles), titles


def test_one_word_means_one_code_in_every_list() -> None:
    codes: dict[str, set[str]] = {}
    for word, code in CODED:
        codes.setdefault(word, set()).add(code.code)
    assert [word for word, found in codes.items() if len(found) > 1] == []


@pytest.mark.parametrize(
    "word",
    ["high_grade_av_block", "sinus_arrest", "asystole", "junctional", "af_slow"],
)
def test_an_answer_that_needs_a_further_question_carries_no_code(word: str) -> None:
    found = [c for c in _choices("indication.main_rhythm") if c.code == word]
    assert [choice.codes for choice in found] == [()]


def test_no_complication_carries_a_code_of_its_own() -> None:
    # A complication code needs a clinician's stated cause, never the event alone.
    assert [c.code for c in _choices("finish.complication.kind") if c.codes] == []


def test_the_eight_outcomes_are_these() -> None:
    assert [choice.code for choice in _choices("finish.outcome")] == [
        "capturing_wire_in",
        "not_capturing_wire_in",
        "standby_wire_in",
        "given_up_wire_out",
        "given_up_cannot_remove",
        "stopped_own_rhythm_back",
        "not_started",
        "died_during",
    ]


# Source: revised NBG code 2002, Bernstein et al., PACE 2002;25:260, positions I-III.
NBG = re.compile(r"[OAVD][OAVD][OTID]")


def test_every_mode_is_three_letters_of_the_nbg_code() -> None:
    modes = [
        c for c in _choices("wires/*/capture.dial_left_at.mode") if not c.takes_text
    ]
    assert {"VVI", "VOO", "AAI", "AOO", "DDD", "DOO"} <= {mode.label for mode in modes}
    for mode in modes:
        assert NBG.fullmatch(mode.label)
        assert mode.code == mode.label.lower()


def test_both_sides_of_every_vein_can_be_said() -> None:
    codes = {choice.code for choice in _choices("wires/*/approach.site")}
    for code in codes:
        if code.endswith("_right"):
            assert code.removesuffix("_right") + "_left" in codes
    assert len([code for code in codes if code.endswith("_left")]) == 6
