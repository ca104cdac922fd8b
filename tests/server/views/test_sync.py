"""`POST /sync`: who may, and what a request must look like."""

import pytest

from tests.support.replies import NAME
from tests.support.tablet import CONTENT_TYPE
from webapp.record import log
from webapp.record.framing import MOST_ENTRIES
from webapp.say import say


def test_a_cookie_alone_is_nobody(cast):
    administrator = cast.administrator
    administrator.signs_in()
    answer = administrator.client.post("/sync", data=b"", content_type=CONTENT_TYPE)
    assert answer.status_code == 401
    assert answer.json["ok"] is False


@pytest.mark.parametrize(
    "authorization",
    [None, "", "Bearer", "Bearer ", "Bearer nobody", "Basic dDp0", "Bearer \xe6\xf8"],
)
def test_no_token_that_is_known_is_nobody(client, tablet, authorization):
    headers = {"Authorization": authorization} if authorization is not None else {}
    answer = client.post(
        "/sync", data=tablet.request(), headers=headers, content_type=CONTENT_TYPE
    )
    assert answer.status_code == 401


def test_the_token_needs_no_form_token_and_gets_no_cookie(client, tablet):
    answer = client.post(
        "/sync",
        data=tablet.request(),
        headers={"Authorization": f"bearer {tablet.token}"},
        content_type=CONTENT_TYPE,
    )
    assert answer.status_code == 200
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("method", ["get", "put", "delete"])
def test_no_other_method_is_taken(client, method):
    assert getattr(client, method)("/sync").status_code == 405


def test_another_content_type_is_told(tablet):
    reply = tablet.posts(tablet.request(), **{"Content-Type": "text/plain"})
    assert reply.status == 400
    assert reply.json["errors"][0]["field"] == "Content-Type"


def test_more_entries_than_one_request_takes_are_too_large(tablet, db):
    record = tablet.opens()
    for _ in range(501):
        tablet.sets(record, NAME, "ALDERMERE", seen=[])
    reply = tablet.posts(tablet.request(tablet.own))
    assert reply.status == 413
    expected = say("sync.expected", expected=f"at most {MOST_ENTRIES} a request")
    told = {"field": "entries", "code": "shape", "message": expected}
    assert reply.json["errors"] == [told]
    assert log.head(db).position == 0


def test_more_bytes_than_one_request_takes_are_too_large(tablet, db):
    for size in (4 * 1024 * 1024 + 1, 17 * 1024 * 1024):
        reply = tablet.posts(b"\0" * size)
        assert reply.status == 413
        assert reply.json["status"] == 413
