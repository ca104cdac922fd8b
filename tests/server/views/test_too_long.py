"""More text than one entry may carry is refused in a word, with all that was typed."""

import json

import pytest

from tests.support.cast import PASSWORD
from tests.support.replies import everything
from webapp.record.framing import MOST_ENTRY_BYTES

FINDINGS = "finish.findings"
LONG = "Ł " * (MOST_ENTRY_BYTES // 3)


@pytest.fixture
def record(read_record):
    return read_record


def test_a_long_answer_comes_back_as_typed_with_the_reason(cast, record, db):
    before = everything(db)
    where = f"/records/{record}/answer?path={FINDINGS}"
    page = cast.signer.posts(where, answer=LONG, path=FINDINGS)
    assert page.status_code == 413
    assert "Too long: an entry takes 64 KiB" in page.text
    assert LONG.strip() in page.text
    assert everything(db) == before


def test_the_longest_that_fits_is_kept(cast, record, db):
    where = f"/records/{record}/answer?path={FINDINGS}"
    most = "x" * (MOST_ENTRY_BYTES - 1000)
    assert cast.signer.posts(where, answer=most, path=FINDINGS).status_code == 302
    assert most in cast.signer.opens(f"/records/{record}").text


def test_a_long_key_or_reason_is_refused_with_its_field(cast, record, tablet, db):
    row = tablet.adds(record, "patient.people", {"role": "operator"})
    tablet.syncs()
    before = everything(db)
    page = f"/records/{record}"
    said = cast.signer.posts(
        f"{page}/say", page=page, path=FINDINGS, value=json.dumps(LONG), seen=""
    )
    assert (said.status_code, "Too long" in said.text) == (413, True)
    struck = cast.signer.posts(
        f"{page}/strike", page=page, path="patient.people", entry=row, reason=LONG
    )
    assert (struck.status_code, "Too long" in struck.text) == (413, True)
    assert everything(db) == before


def test_a_long_reason_to_sign_now_signs_nothing(cast, record, db):
    import re

    page = f"/records/{record}/sign"
    text = cast.signer.opens(page).text
    read = {
        name: re.search(rf'name="{name}" value="(\w+)"', text)[1]
        for name in ("digest", "upto")
    }
    asked = {**read, "agree": "yes", "password": PASSWORD, "undelivered_reason": LONG}
    answer = cast.signer.posts(page, **asked)
    assert (answer.status_code, "Too long" in answer.text) == (400, True)
    assert db["note"].count == 0


def test_more_than_any_form_may_carry_is_told_too(cast, record, db):
    before = everything(db)
    where = f"/records/{record}/answer?path={FINDINGS}"
    page = cast.signer.posts(where, answer="x" * (17 << 20), path=FINDINGS)
    assert (page.status_code, "Too large" in page.text) == (413, True)
    assert everything(db) == before
