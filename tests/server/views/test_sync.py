"""`POST /sync`: who may, and what a request must look like."""

from dataclasses import replace

import pytest

from tests.support.cast import Cast
from tests.support.replies import NAME
from tests.support.tablet import CONTENT_TYPE
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.people import tablets
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


def test_a_tablet_is_told_when_to_lock_and_how_long_to_keep(site, db):
    shipped = {
        "lock_after_idle_min": 5,
        "lock_after_idle_running_min": 30,
        "lock_shows_numbers": True,
        "keep_readable_h": 12,
        "keep_bytes_d": 7,
        "running_case_h": 2,
    }
    other = {"lock_after_idle_min": 2, "keep_bytes_d": 30, "lock_shows_numbers": False}
    for chosen in ({}, other):
        made = create_app(replace(site, **chosen))
        tablet = Cast(made, db).tablet()
        assert tablet.syncs()["settings"] == {**shipped, **chosen}
        close_held()


def test_a_tablet_is_told_the_same_when_it_is_enrolled(client, db):
    _, code = tablets.add(db, "Ward tablet")
    given = client.post("/tablet/enrol", json={"code": code}).json
    assert given["settings"]["lock_after_idle_running_min"] == 30
