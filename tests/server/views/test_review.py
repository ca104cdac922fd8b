"""The desk: what it shows of a record, and what a person may write there."""

import json
import re

import pytest

from tests.support.sent_cases import sends_case
from webapp.record.open_record import open_record
from webapp.record.records import one_listed

ODD = "<b>Ó'Brien & Søn</b>"


@pytest.fixture
def unknown_man(cast):
    return sends_case(cast.tablet(), "published/CR-01")


@pytest.fixture
def clean(cast):
    return sends_case(cast.tablet("tablet 5"), "demo/1-clean-emergency")


def says(db, record, path):
    return open_record(db, record).case.answer(path)


def test_the_first_page_asks_nobody_to_sign_in_first(client):
    answer = client.get("/", headers={"Accept": "text/html"})
    assert answer.status_code == 302
    assert "/sign-in" in answer.location


def test_the_list_shows_a_nameless_record_by_its_alias(signer, unknown_man):
    page = signer.opens("/records").text
    assert "NAME NOT KNOWN, Unknown man, found on floor" in page
    assert unknown_man in page


def test_the_list_is_searched_by_number(signer, unknown_man, clean):
    page = signer.opens("/records?q=00417220").text
    assert clean in page
    assert unknown_man not in page


def test_the_list_never_calls_not_asked_what_somebody_answered(signer, cast):
    record = sends_case(cast.tablet(), "demo/2-name-not-known-a")
    pages = [signer.opens(page).text for page in ("/records", f"/records/{record}")]
    for page in pages:
        assert "birth date not known" in page
        assert "no. not done, because none made yet" in page
        assert "birth date not asked" not in page
        assert "record number not asked" not in page


def test_a_search_for_a_per_cent_sign_finds_nothing_by_accident(signer, clean):
    assert clean not in signer.opens("/records?q=zz%25").text


def test_a_record_names_each_open_question_beside_its_field(signer, db, unknown_man):
    page = signer.opens(f"/records/{unknown_man}").text
    row = one_listed(db, unknown_man)
    assert row.open_questions > 20
    assert len(re.findall(r'data-open="', page)) >= row.open_questions - 5
    assert "not stated by case report" in page


def test_a_clean_record_has_nothing_open(signer, clean):
    assert "No question is open." in signer.opens(f"/records/{clean}").text


def test_a_name_with_signs_stands_as_typed(cast, signer):
    tablet = cast.tablet()
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", ODD)
    tablet.sets(record, "finish.findings", "x" * 2000)
    tablet.syncs()
    page = signer.opens(f"/records/{record}").text
    assert "&lt;b&gt;Ó&#39;Brien &amp; Søn&lt;/b&gt;" in page
    assert ODD not in page
    assert "x" * 2000 in page


def test_a_key_beside_a_field_answers_it_under_the_persons_name(
    signer, db, unknown_man
):
    page = f"/records/{unknown_man}"
    signer.posts(
        f"{page}/say", page=page, path="patient.on_blood_thinner",
        value=json.dumps({"absent": "not_known"}), seen="",
    )  # fmt: skip
    case = open_record(db, unknown_man).case
    answer = case.answer("patient.on_blood_thinner")
    assert answer.state == "not_known"
    meta = case.meta(answer.entries[0])
    assert meta["author"]["name"] == signer.person.name
    assert (meta["log"], meta["how"]) == ("desk", "password")


def test_a_field_is_answered_on_a_page_of_its_own(signer, db, unknown_man):
    path = "patient.weight"
    where = f"/records/{unknown_man}/answer?path={path}"
    answer = signer.posts(where, answer="71,5", **{"answer.unit": "kg"}, path=path)
    assert answer.status_code == 302, answer.text
    assert says(db, unknown_man, path).value == {
        "as": "71,5",
        "n": "71.5",
        "unit": "kg",
    }


def test_a_correction_leaves_what_stood_before_in_the_history(signer, db, clean):
    path = "patient.height"
    where = f"/records/{clean}/answer?path={path}"
    signer.posts(where, answer="165", **{"answer.unit": "cm"}, path=path)
    assert says(db, clean, path).value["n"] == "165"
    history = signer.opens(f"/records/{clean}/entries?path={path}").text
    assert "163" in history
    assert "165" in history


def test_two_answers_are_shown_and_settled_by_one_key(cast, signer, db):
    sends_case(cast.tablet("a"), "demo/2-name-not-known-a")
    record = sends_case(cast.tablet("b"), "demo/2-name-not-known-b")
    before = says(db, record, "patient.age_class")
    assert before.state == "two_answers"
    page = f"/records/{record}"
    assert "Two answers: which one stands?" in signer.opens(page).text
    signer.posts(
        f"{page}/say", page=page, path="patient.age_class",
        value='"elderly_adult"', seen=",".join(before.entries),
    )  # fmt: skip
    assert says(db, record, "patient.age_class").value == "elderly_adult"


def test_a_key_that_saw_one_of_two_answers_settles_nothing(cast, signer, db):
    sends_case(cast.tablet("a"), "demo/2-name-not-known-a")
    record = sends_case(cast.tablet("b"), "demo/2-name-not-known-b")
    before = says(db, record, "patient.age_class")
    page = f"/records/{record}"
    signer.posts(
        f"{page}/say", page=page, path="patient.age_class",
        value='"elderly_adult"', seen=before.entries[0],
    )  # fmt: skip
    after = says(db, record, "patient.age_class")
    assert after.state in ("two_answers", "answered")
    assert before.entries[1] in after.entries


def test_a_row_is_struck_with_its_reason_and_kept_after_all(signer, db, clean):
    path = "indication.drugs_given"
    row = open_record(db, clean).case.rows(path)[0]
    page = f"/records/{clean}"
    signer.posts(f"{page}/strike", page=page, path=path, entry=row.id, reason="twice")
    case = open_record(db, clean).case
    assert case.rows(path) == []
    assert case.rows(path, struck=True)[0].struck["reason"] == "twice"
    assert "twice" in signer.opens(page).text
    signer.posts(f"{page}/strike", page=page, path=path, entry=row.id)
    assert [r.id for r in open_record(db, clean).case.rows(path)] == [row.id]


@pytest.mark.parametrize(
    ("where", "fields"),
    [
        ("say", {"path": "patient.weight", "value": "true"}),
        ("say", {"path": "patient.sex", "value": '"neither"'}),
        ("say", {"path": "patient.sex", "value": "{"}),
        ("say", {"path": "patient.nickname", "value": '"x"'}),
        ("say", {"path": "attestations", "value": '"x"'}),
        ("say", {"path": "indication.drugs_given", "value": '"x"'}),
        ("say", {}),
    ],
)
def test_a_value_no_field_takes_changes_nothing(signer, db, clean, where, fields):
    before = len(open_record(db, clean).logged)
    page = f"/records/{clean}"
    answer = signer.posts(f"{page}/{where}", page=page, **fields)
    assert answer.status_code == 400
    assert "Nothing was changed" in answer.text
    assert len(open_record(db, clean).logged) == before


def test_a_strike_of_a_row_that_is_not_there_is_not_found(signer, clean):
    page = f"/records/{clean}"
    fields = {"path": "indication.drugs_given", "entry": clean}
    assert signer.posts(f"{page}/strike", page=page, **fields).status_code == 404


PAGES = ["", "/entries", "/answer?path=patient.sex", "/sign", "/note.pdf"]


@pytest.mark.parametrize("page", PAGES)
def test_nobody_is_sent_to_sign_in(client, clean, page):
    answer = client.get(f"/records/{clean}{page}", headers={"Accept": "text/html"})
    assert answer.status_code == 302


@pytest.mark.parametrize("page", PAGES)
def test_the_wrong_person_and_a_missing_record_look_the_same(cast, clean, page):
    cast.recorder.signs_in()
    cast.signer.signs_in()
    missing = "01890000-0000-7000-8000-00000000dead"
    assert cast.recorder.opens(f"/records/{clean}{page}").status_code in (403, 404)
    assert cast.signer.opens(f"/records/{missing}{page}").status_code == 404
    assert cast.signer.opens(f"/records/nonsense{page}").status_code == 404


def test_a_form_without_its_token_changes_nothing(signer, db, clean):
    before = len(open_record(db, clean).logged)
    answer = signer.client.post(
        f"/records/{clean}/say", data={"path": "patient.sex", "value": '"male"'}
    )
    assert answer.status_code == 400
    assert len(open_record(db, clean).logged) == before
