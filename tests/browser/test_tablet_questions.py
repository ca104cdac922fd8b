"""The tablet finds the same open questions as the server, in the same order."""

from dataclasses import asdict

import pytest
from playwright.sync_api import expect

from tests.support.published import published_case
from webapp.catalogue import CATALOGUE
from webapp.record.case import Case
from webapp.record.questions import open_questions

_ASK = """async (fold) => {
  const { openQuestions } = await import("/static/js/form/questions.js");
  const { loadCatalogue } = await import("/static/js/sync/catalogue.js");
  const { setWords } = await import("/static/js/form/say.js");
  const catalogue = await loadCatalogue();
  setWords(catalogue.say);
  return openQuestions(fold, catalogue);
}"""
EMPTY = {"values": {}, "rows": {}, "entries": {}, "order": []}


def as_json(case):
    """The server's questions, as the tablet writes them."""
    return [
        {**asdict(question), "entries": list(question.entries)}
        for question in open_questions(case)
    ]


def test_an_empty_record_asks_the_same(page):
    assert page.evaluate(_ASK, EMPTY) == as_json(Case(EMPTY, CATALOGUE))


@pytest.mark.parametrize("name", ["CR-01", "CR-02"])
def test_a_published_case_asks_the_same(page, name):
    case = published_case(name)
    told = page.evaluate(_ASK, case.fold)
    assert told == as_json(case)
    assert told


def test_two_answers_impossible_values_and_two_wires_ask_the_same(page):
    meta = {
        "log": "l",
        "op": "set",
        "at": {"utc": "2031-11-24T10:00:00.000Z", "zone": "UTC", "offset_min": 0},
        "author": {"person": None, "name": "", "role": ""},
        "entered_by": {"person": None, "name": "", "role": ""},
        "called_by": None,
        "source": "seen",
        "how": "none",
        "time_ms": 1953280800000,
    }
    head = {"value": "female", "entries": ["a"]}
    other = {"value": "male", "entries": ["b"]}
    high = {"as": "340", "n": "340", "unit": "cm"}
    wires = [
        {"id": w, "value": {"name": f"Wire {n}"}, "struck": None}
        for n, w in enumerate(("w1", "w2"), start=1)
    ]
    reading = {"id": "d", "value": {"depth": {**high, "as": "999", "n": "999"}}}
    fold = {
        "values": {
            "patient.sex": [head, other],
            "patient.height": [{"value": high, "entries": ["c"]}],
        },
        "rows": {
            "wires": wires,
            "wires/w1/advance.depth_reading": [{**reading, "struck": None}],
        },
        "entries": {
            i: {**meta, "seq": n, "path": "patient.sex"}
            for n, i in enumerate(("a", "b", "c", "w1", "w2", "d"), start=1)
        },
        "order": ["a", "b", "c", "w1", "w2", "d"],
    }
    told = page.evaluate(_ASK, fold)
    assert told == as_json(Case(fold, CATALOGUE))
    assert {"two_answers", "impossible", "not_asked"} == {q["why"] for q in told}


def test_finish_leads_to_the_first_open_question(bedside):
    bedside.starts_now()
    bedside.goes_to("Finish")
    first = bedside.page.locator("[data-act=first-open]")
    expect(first).to_have_text("To the first: Patient, Identity known")
    first.click()
    expect(bedside.page.locator("#part-patient:not([hidden])")).to_have_count(1)
    expect(bedside.field("Identity known").locator("input:focus")).to_have_count(1)
