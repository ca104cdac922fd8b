"""A form that is not taken comes back with what was typed into it."""

import pytest

from tests.support.cast import PASSWORD
from tests.support.hostile import LINES, OTHERS
from tests.support.html import Page

NAME = "patient.family_name"


@pytest.fixture
def page(cast, tablet):
    """The address of an answer's page, for a signer who has it open."""
    record = tablet.opens()
    tablet.sets(record, "patient.given_name", "Test")
    tablet.syncs()
    cast.signer.signs_in()
    return f"/records/{record}/answer"


def posts_with_a_dead_token(signer, page, **fields):
    told = {"csrf_token": "long dead", "path": NAME, **fields}
    return signer.client.post(
        page, base_url=signer.base_url, data=told, headers={"Accept": "text/html"}
    )


@pytest.mark.parametrize(
    "typed", [s for s in (*LINES, *OTHERS) if s.strip()], ids=lambda s: ascii(s)[:20]
)
def test_a_page_open_too_long_gives_back_every_letter(cast, page, typed):
    answer = posts_with_a_dead_token(cast.signer, page, answer=typed)
    assert answer.status_code == 400
    parsed = Page(answer.text)
    [told] = [tag.text for tag in parsed.tags if tag.has_class("typed-text")]
    assert told.split() == typed.split()


def test_a_session_that_ended_gives_back_what_was_typed(cast, page):
    cast.signer.signs_out()
    answer = posts_with_a_dead_token(cast.signer, page, answer="A long remark.")
    assert answer.status_code == 400
    assert "A long remark." in answer.text


def test_no_password_is_given_back(cast, page):
    fields = {"answer": "A remark.", "password": PASSWORD}
    answer = posts_with_a_dead_token(cast.signer, page, **fields)
    assert PASSWORD not in answer.text
    assert "long dead" not in answer.text


def test_a_page_that_was_only_read_gives_nothing_back(cast, page):
    assert "typed-text" not in cast.signer.opens(f"{page}?path=no.such").text
