"""Questions to clinicians are neutral, and the lint stops those that are not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from webapp.catalogue import CATALOGUE
from webapp.coding.questions import ALWAYS_OFFERED, Question, lint, load_questions

QUESTIONS = load_questions()
GOOD = Question(
    "q-test",
    "Circulation",
    ("indication.compromise",),
    "The state is named, its type is not.",
    (),
)


@pytest.mark.parametrize("question", QUESTIONS.values(), ids=list(QUESTIONS))
def test_every_shipped_question_passes_the_lint(question):
    assert lint(question) == []


@pytest.mark.parametrize("question", QUESTIONS.values(), ids=list(QUESTIONS))
def test_every_question_cites_fields_of_the_catalogue(question):
    assert all(CATALOGUE.field(path) for path in question.facts)


@pytest.mark.parametrize("question", QUESTIONS.values(), ids=list(QUESTIONS))
def test_every_question_leaves_a_way_out(question):
    assert question.offered[-3:] == ALWAYS_OFFERED
    assert len(question.choices) != 1


# Examples of the coding rules, section 6: each must be stopped.
BAD = {
    "a choice no entry supports": {"choices": ("cardiogenic", "distributive")},
    "one choice": {"choices": ("from the wire",)},
    "payment": {"unclear": "This affects severity."},
    "a number": {"unclear": "Needed for 99291."},
    "a code": {"unclear": "Is it I44.2?"},
    "leading": {"unclear": "Please document the reason."},
    "leading too": {"unclear": "Can you add the type?"},
    "a title that names the answer": {"title": "Acute heart failure"},
    "a title that asks": {"title": "Circulation?"},
    "yes or no": {"choices": ("yes", "no")},
    "nothing cited": {"facts": ()},
}


@pytest.mark.parametrize("change", BAD.values(), ids=list(BAD))
def test_the_lint_refuses(change):
    assert lint(GOOD) == []
    assert lint(replace(GOOD, **change))
