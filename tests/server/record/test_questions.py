"""Counting open questions without making them, and what need not be judged twice."""

from __future__ import annotations

import pickle
from copy import deepcopy
from pathlib import Path
from random import Random

import pytest

from webapp.catalogue import CATALOGUE
from webapp.record.case import Case
from webapp.record.counts import Counts, counts
from webapp.record.fold import Opened, fold
from webapp.record.questions import open_questions
from webapp.record.ruling import judged
from webapp.record.streams import read_stream
from webapp.record.writer import body_of

FIXTURES = Path(__file__).parents[3] / "fixtures"
STREAMS = sorted((FIXTURES / "demo").glob("*.json"))


def entries_of(file: Path) -> list[Opened]:
    """Return a demonstration case as opened entries."""
    drafts = read_stream(file).drafts
    return [Opened(d.id, "A", n, body_of(d)) for n, d in enumerate(drafts, 1)]


def spoilt(folded: dict, random: Random) -> dict:
    """Return a fold with values that cannot be, two answers, and rows struck."""
    made = deepcopy(folded)
    for heads in made["values"].values():
        what = random.randrange(8)
        if what == 0:
            heads.append({"value": "said otherwise", "entries": ["other"]})
        elif what == 1:
            heads[0]["value"] = {"as": "9e9", "unit": "furlong"}
        elif what == 2:
            heads.clear()
    for rows in made["rows"].values():
        for row in rows:
            if random.randrange(5) == 0:
                row["struck"] = {"by": "somebody", "reason": None}
    return made


def counted(case: Case) -> Counts:
    """Count the long way round."""
    questions = open_questions(case)
    two = sum(question.why == "two_answers" for question in questions)
    return Counts(len(questions), two)


@pytest.mark.parametrize("file", STREAMS, ids=lambda file: file.stem)
def test_questions_counted_are_as_many_as_questions_made(file):
    random = Random(file.stem)
    entries = entries_of(file)
    seen = set()
    for share in (0.0, 0.05, 0.2, 0.5, 0.9, 1.0) * 2:
        folded = fold(e for e in entries if random.random() < share)
        for one in (folded, spoilt(folded, random)):
            found = counts(Case(one, CATALOGUE))
            assert found == counted(Case(one, CATALOGUE))
            seen.add(found)
    assert len(seen) > 4


@pytest.mark.parametrize("file", STREAMS, ids=lambda file: file.stem)
def test_values_known_to_be_sound_leave_the_same_questions(file):
    entries = entries_of(file)
    sound = frozenset(e.id for e in entries if judged(e.body).is_sound)
    assert len(sound) > len(entries) * 0.9
    folded = fold(entries)
    known = Case(folded, CATALOGUE, sound)
    assert open_questions(known) == open_questions(Case(folded, CATALOGUE))
    assert counts(known) == counted(Case(folded, CATALOGUE))


def test_a_value_that_cannot_be_is_never_called_sound():
    body = body_of(read_stream(STREAMS[0]).drafts[0])
    weight = {**body, "path": "patient.weight"}
    assert judged({**weight, "value": {"as": "64", "n": "64", "unit": "kg"}}).is_sound
    beyond = judged({**weight, "value": {"as": "6400", "n": "6400", "unit": "kg"}})
    assert (beyond.against, beyond.is_sound) == ("", False)


def test_a_case_that_was_asked_everything_still_goes_to_the_note_worker():
    case = Case(fold(entries_of(STREAMS[0])), CATALOGUE)
    questions = open_questions(case)
    assert open_questions(pickle.loads(pickle.dumps(case))) == questions  # noqa: S301
