"""Remarks at the desk: beside their field, in one list, answered by one entry."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.support.notes import FIXTURES
from tests.support.remarked_pages import beside_fields, in_list
from tests.support.sent_cases import sends_case
from webapp.clinical.policy import load
from webapp.clinical.remarks import HEAVIER
from webapp.record.open_record import open_record
from webapp.record.page import page as page_of
from webapp.record.remarked import remarked

CASES = sorted(
    f"demo/{file.stem}" for file in (FIXTURES / "demo").glob("*.json")
)  # fmt: skip
ANAESTHETIC = "approach.local_anaesthetic"


def quantity(n, unit):
    return {"as": n, "n": n, "unit": unit}


@pytest.fixture
def half(cast):
    """A record with several remarks of weight Look again."""
    return sends_case(cast.tablet(), "demo/5-half-entered")


@pytest.fixture
def over(cast):
    """A record with one remark of weight Look now: too much lidocaine."""
    tablet = cast.tablet()
    record = tablet.opens()
    tablet.sets(record, "patient.age_class", "adult")
    tablet.sets(record, "patient.weight", quantity("55", "kg"))
    tablet.adds(record, ANAESTHETIC, lidocaine("30"))
    tablet.syncs()
    return record


def lidocaine(volume):
    strength = {"strength": quantity("2", "%"), "volume": quantity(volume, "mL")}
    return {"agent": "lidocaine", **strength}


def shown(signer, record, code):
    html = signer.opens(f"/records/{record}").text
    return next(one for one in beside_fields(html) if one.code == code)


def answers(signer, record, one, answer="seen_otherwise", **changed):
    page = f"/records/{record}"
    sends = {**one.sends, "answer": answer, **changed}
    sends.pop("csrf_token")
    return signer.posts(f"{page}/remark", page=page, **sends)


@pytest.mark.parametrize("case", CASES)
def test_each_remark_of_a_demo_case_stands_in_the_line_of_its_field(
    cast, signer, db, case
):
    record = sends_case(cast.tablet(), case)
    html = signer.opens(f"/records/{record}").text
    told = remarked(open_record(db, record).case, load())
    found = {(one.line, one.code, one.weight) for one in beside_fields(html)}
    assert found == {(r.path, r.found.name, r.weight) for r in told}


@pytest.mark.parametrize("case", CASES)
def test_every_remark_s_field_has_a_line_on_the_page(cast, db, case):
    record = sends_case(cast.tablet(), case)
    found = open_record(db, record).case
    told = remarked(found, load())
    paths = page_of(found, told).paths
    assert [r.path for r in told if r.path not in paths] == []


def test_the_list_says_heavier_ones_first_and_links_to_the_line(signer, half):
    html = signer.opens(f"/records/{half}").text
    listed = in_list(html)
    lines = {one.line for one in beside_fields(html)}
    places = [HEAVIER.index(weight) for weight, _, _ in listed]
    assert all(a <= b for a, b in pairwise(places))
    assert {line for _, _, line in listed} == lines
    assert len(listed) == len(beside_fields(html)) > 4


def test_a_remark_tells_weight_finding_limit_and_who_decides(signer, over):
    one = shown(signer, over, "anaesthetic_over")
    assert one.line == ANAESTHETIC
    assert one.weight == "look_now"
    assert one.text.startswith("Look now: Lidocaine 600 mg, over 247.5 mg")
    assert "4.5 mg/kg" in one.text
    assert "Local protocol and the treating clinician decide." in one.text


def test_what_policy_asks_stands_in_the_remark(signer, half):
    one = shown(signer, half, "test_settings_left")
    assert "Policy asks: rate, output and mV read back." in one.text


def test_a_reason_is_asked_for_in_sight_only_at_look_now(signer, over, half):
    assert shown(signer, over, "anaesthetic_over").has_open_reason
    again = shown(signer, half, "bracket_wide")
    assert "because" in again.sends
    assert not again.has_open_reason


def test_what_fits_is_not_to_be_answered(signer, half):
    html = signer.opens(f"/records/{half}").text
    fits = [one for one in beside_fields(html) if one.weight == "fits"]
    assert fits
    assert [one.sends for one in fits if one.sends] == []


def test_an_answer_is_one_entry_on_the_evidence_that_was_read(signer, db, half):
    before = len(open_record(db, half).logged)
    one = shown(signer, half, "bracket_wide")
    given = answers(signer, half, one, because="the strip was clear")
    assert given.status_code == 302
    found = open_record(db, half)
    assert len(found.logged) == before + 1
    [row] = found.case.rows("remarks.bracket_wide")
    told = next(r for r in remarked(found.case, load()) if r.given)
    assert row.value == {
        "answer": "seen_otherwise",
        "because": "the strip was clear",
        "evidence": " ".join(told.found.evidence),
    }


def test_the_answer_stands_beside_its_remark_with_reason_person_and_time(signer, half):
    one = shown(signer, half, "bracket_wide")
    answers(signer, half, one, because="the strip was clear")
    after = shown(signer, half, "bracket_wide").text
    said = "Seen, chose otherwise, because the strip was clear, by "
    assert f"{said}{signer.person.name}, " in after
    listed = in_list(signer.opens(f"/records/{half}").text)
    assert any(said in text for _, text, _ in listed)


def test_a_look_now_is_answered_without_a_reason(signer, db, over):
    answers(signer, over, shown(signer, over, "anaesthetic_over"), "seen")
    [row] = open_record(db, over).case.rows("remarks.anaesthetic_over")
    assert row.value["answer"] == "seen"
    assert "because" not in row.value


def test_the_latest_answer_is_the_one_beside_the_remark(signer, half):
    answers(signer, half, shown(signer, half, "bracket_wide"), because="first")
    answers(signer, half, shown(signer, half, "bracket_wide"), "seen", because="then")
    text = shown(signer, half, "bracket_wide").text
    assert "Seen, done as asked, because then" in text
    assert "because first" not in text


def test_more_evidence_asks_anew(cast, signer, over):
    one = shown(signer, over, "anaesthetic_over")
    answers(signer, over, one)
    signer.posts(
        f"/records/{over}/answer?path={ANAESTHETIC}", path=ANAESTHETIC,
        **{"answer.agent": "lidocaine", "answer.strength": "2",
           "answer.strength.unit": "%", "answer.volume": "5",
           "answer.volume.unit": "mL"},
    )  # fmt: skip
    after = shown(signer, over, "anaesthetic_over")
    assert "Lidocaine 700 mg" in after.text
    assert "Seen, chose otherwise, by" not in after.text


def test_an_answer_given_while_more_came_in_is_kept_with_what_was_read(
    cast, signer, db, over
):
    one = shown(signer, over, "anaesthetic_over")
    tablet = cast.tablet("tablet 5")
    tablet.opens(over)
    tablet.adds(over, ANAESTHETIC, lidocaine("5"))
    tablet.syncs()
    assert answers(signer, over, one).status_code == 302
    [row] = open_record(db, over).case.rows("remarks.anaesthetic_over")
    assert row.value["evidence"] == one.sends["evidence"]


@pytest.mark.parametrize(
    "changed",
    [
        {"answer": "overruled"},
        {"answer": ""},
        {"code": "no_such_remark"},
        {"code": "../x"},
        {"evidence": "0199aaaa-0000-7000-8000-00000000dead"},
        {"evidence": ""},
    ],
)
def test_an_answer_to_what_was_never_said_changes_nothing(signer, db, over, changed):
    before = len(open_record(db, over).logged)
    one = shown(signer, over, "anaesthetic_over")
    said = {"answer": "seen", **changed}
    assert answers(signer, over, one, **said).status_code == 400
    assert len(open_record(db, over).logged) == before


def test_a_remark_is_answered_only_with_the_page_s_token(signer, db, over):
    before = len(open_record(db, over).logged)
    one = shown(signer, over, "anaesthetic_over")
    sends = {k: v for k, v in one.sends.items() if k != "csrf_token"}
    path = f"/records/{over}/remark"
    answer = signer.client.post(path, data={**sends, "answer": "seen"})
    assert answer.status_code == 400
    assert len(open_record(db, over).logged) == before


def test_a_reason_longer_than_an_entry_is_given_back(signer, over):
    one = shown(signer, over, "anaesthetic_over")
    answer = answers(signer, over, one, because="x" * 70_000)
    assert answer.status_code == 413
    assert "x" * 70_000 in answer.text


def test_a_reason_with_signs_stands_as_typed(signer, over):
    one = shown(signer, over, "anaesthetic_over")
    answers(signer, over, one, because="<b>Ø & 'x'</b>")
    html = signer.opens(f"/records/{over}").text
    assert "&lt;b&gt;Ø &amp; &#39;x&#39;&lt;/b&gt;" in html
    assert "<b>Ø" not in html


def test_a_reader_who_may_not_write_sees_remarks_without_keys(cast, half):
    cast.administrator.signs_in()
    html = cast.administrator.opens(f"/records/{half}").text
    found = beside_fields(html)
    assert len(found) > 4
    assert [one.sends for one in found if one.sends] == []
