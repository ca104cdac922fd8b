"""The administrator's page of tablets, and a tablet's own two requests."""

import json
import re
from base64 import b64decode

import pytest

from tests.support.cast import CODER, PASSWORD, csrf_token
from tests.support.tablet import NotEnrolled, Tablet
from tests.support.transport import InProcess
from webapp.people import accounts, tablets
from webapp.record.entry import uuid7
from webapp.record.seal import wrap_key

NO_TABLET = "0199c0de-0000-7000-8000-000000000009"
PAGES = [
    ("get", "/tablets"),
    ("post", "/tablets"),
    ("post", f"/tablets/{NO_TABLET}/renew"),
    ("post", f"/tablets/{NO_TABLET}/revoke"),
]


def code_on(page):
    return re.search(r"<code>([0-9A-Z]{8})</code>", page.get_data(as_text=True))[1]


@pytest.fixture
def administrator(cast):
    cast.administrator.signs_in()
    return cast.administrator


@pytest.mark.parametrize(("method", "path"), PAGES)
def test_nobody_reaches_the_tablets(client, method, path):
    token = csrf_token(client.get("/sign-in"))
    told = {"data": {"csrf_token": token}} if method == "post" else {}
    assert getattr(client, method)(path, **told).status_code == 401


@pytest.mark.parametrize(("method", "path"), PAGES)
def test_only_an_administrator_reaches_the_tablets(cast, method, path):
    for actor in (cast.signer, cast.coder, cast.recorder, cast.elsewhere):
        actor.signs_in()
        token = csrf_token(actor.opens("/sign-in"))
        told = {"data": {"csrf_token": token}} if method == "post" else {}
        assert getattr(actor.client, method)(path, **told).status_code == 403


@pytest.mark.parametrize("act", ["renew", "revoke"])
@pytest.mark.parametrize("tablet", [NO_TABLET, "x", "%00", "a%20b"])
def test_a_tablet_that_is_not_there_is_not_found(administrator, act, tablet):
    answer = administrator.posts(f"/tablets/{tablet}/{act}", page="/tablets")
    assert answer.status_code == 404


def test_a_tablet_is_added_and_its_code_is_shown_this_once(administrator, app):
    page = administrator.posts("/tablets", name="tablet 2")
    assert page.status_code == 200
    code = code_on(page)
    assert code not in administrator.opens("/tablets").get_data(as_text=True)
    assert Tablet.enrols(InProcess(app), code).name == "tablet 2"


def test_a_name_is_shown_as_typed(administrator):
    administrator.posts("/tablets", name="<b>Ó'Brien & Søn</b>")
    page = administrator.opens("/tablets").get_data(as_text=True)
    assert "&lt;b&gt;Ó&#39;Brien &amp; Søn&lt;/b&gt;" in page
    assert "<b>Ó" not in page


@pytest.mark.parametrize("name", ["", "  ", "x" * 61])
def test_a_name_that_cannot_be_is_told(administrator, db, name):
    answer = administrator.posts("/tablets", name=name)
    assert answer.status_code == 400
    assert b"takes 1 to 60 visible signs" in answer.data
    assert tablets.tablets(db) == []


def test_the_same_form_sent_twice_adds_one_tablet(administrator, db):
    administrator.posts("/tablets", name="tablet 2")
    answer = administrator.posts("/tablets", name="tablet 2")
    assert answer.status_code == 400
    assert b"already called tablet 2" in answer.data
    assert len(tablets.tablets(db)) == 1


def test_the_page_shows_when_each_was_seen_and_what_it_holds_back(administrator, cast):
    tablet = cast.tablet("tablet 2")
    record = tablet.opens()
    for number in range(3):
        tablet.sets(record, "patient.family_name", f"ALDER {number}")
    assert "never seen" in administrator.opens("/tablets").get_data(as_text=True)
    tablet.exchanges(tablet.own[:1])
    page = administrator.opens("/tablets").get_data(as_text=True)
    assert "never seen" not in page
    assert 'class="n">2</td>' in page


def test_a_tablet_is_revoked_and_let_in_again(administrator, cast, db):
    tablet = cast.tablet("tablet 2")
    for _ in range(2):
        answer = administrator.posts(f"/tablets/{tablet.id}/revoke", page="/tablets")
        assert answer.location == "/tablets"
    assert tablets.by_id(db, tablet.id).is_revoked
    page = administrator.posts(f"/tablets/{tablet.id}/renew", page="/tablets")
    again = Tablet.enrols(tablet.transport, code_on(page))
    assert again.id == tablet.id
    assert not tablets.by_id(db, tablet.id).is_revoked


def test_enrolment_gives_what_a_tablet_needs_to_begin(cast, db, app):
    cast.signer, cast.coder  # noqa: B018 - named, so that they exist
    _, code = tablets.add(db, "tablet 2")
    asked = app.test_client().post("/tablet/enrol", json={"code": code})
    given = asked.json
    assert asked.status_code == 200
    assert given["ok"] is True
    assert given["tablet"]["name"] == "tablet 2"
    assert given["hospital"] == "Example Harbour Hospital"
    assert given["zone"] == "Europe/Oslo"
    assert set(given["server_key"]) == {"id", "spki"}
    names = {person["name"] for person in given["people"]}
    assert names == {"Test-Ines ALDERMERE", "Test-Oda BRENNHAVN"}
    assert "Set-Cookie" not in asked.headers


def test_a_code_enrols_one_tablet(cast, db, app):
    _, code = tablets.add(db, "tablet 2")
    Tablet.enrols(InProcess(app), code)
    with pytest.raises(NotEnrolled, match="401"):
        Tablet.enrols(InProcess(app), code)


BAD_CODES = [b"", b"[]", b"null", b"{}", b'{"code":7}', b'{"code":null}', b"\xff{"]


@pytest.mark.parametrize("body", BAD_CODES)
def test_a_request_without_a_code_is_told_what_is_missing(client, body):
    answer = client.post("/tablet/enrol", data=body, content_type="application/json")
    assert answer.status_code == 400
    assert answer.json["errors"][0]["field"] == "code"


@pytest.mark.parametrize("code", ["", "AAAAAAAA", "\ud800", "0" * 1000, "0" * 1001])
def test_a_wrong_code_enrols_nobody(client, db, code):
    tablets.add(db, "tablet 2")
    told = json.dumps({"code": code})
    answer = client.post("/tablet/enrol", data=told, content_type="application/json")
    assert answer.status_code in (400, 401)
    assert answer.json["ok"] is False


def test_guessing_codes_is_slowed(client, db):
    _, code = tablets.add(db, "tablet 2")
    for _ in range(20):
        client.post("/tablet/enrol", json={"code": "00000000"})
    answer = client.post("/tablet/enrol", json={"code": code})
    assert answer.status_code == 200
    _, code = tablets.add(db, "tablet 3")
    for _ in range(30):
        client.post("/tablet/enrol", json={"code": "00000000"})
    answer = client.post("/tablet/enrol", json={"code": code})
    assert answer.status_code == 401
    assert answer.json["errors"][0]["code"] == "wait"


def test_a_tablet_enrolled_anew_still_delivers_what_it_wrote_before(cast, db):
    tablet = cast.tablet("tablet 2")
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", "ALDER")
    tablet.exchanges(tablet.own)
    tablet.sets(record, "patient.family_name", "ALDERMERE")
    _, code = tablets.add(db, "tablet 7")
    again = Tablet.enrols(tablet.transport, code, former=tablet.token)
    tablet.token = again.token
    answers = tablet.syncs()["answers"]
    assert [(a["answer"], a["counts"]) for a in answers] == [("kept", "counted")]


def test_a_person_signs_in_on_a_tablet_by_name_or_by_sign_in_name(cast):
    tablet = cast.tablet()
    signer = cast.signer.person
    for name in (signer.name, signer.login):
        reply = tablet.signs_in(name, PASSWORD)
        assert reply.status == 200
        assert reply.json["person"]["id"] == signer.id
        assert reply.json["expires"] > "2026"


def test_a_person_is_let_in_by_id(cast):
    tablet = cast.tablet()
    told = json.dumps({"id": cast.signer.person.id, "password": PASSWORD}).encode()
    headers = {
        "Authorization": f"Bearer {tablet.token}",
        "Content-Type": "application/json",
    }
    reply = tablet.transport.post("/tablet/person", told, headers)
    assert reply.json["person"]["name"] == "Test-Ines ALDERMERE"


def test_a_name_two_people_have_lets_in_neither(cast, db):
    from dataclasses import replace

    from tests.support.cast import SIGNER, hashed_once

    tablet = cast.tablet()
    for number in (1, 2):
        accounts.add(db, replace(SIGNER, login=f"twin-{number}"), hashed_once)
    assert tablet.signs_in(SIGNER.name, PASSWORD).status == 401
    assert tablet.signs_in("twin-1", PASSWORD).status == 200


@pytest.mark.parametrize(
    ("name", "password"),
    [
        ("test-ines", "not the password 1"),
        ("nobody", PASSWORD),
        ("", ""),
        (CODER.login, PASSWORD),
    ],
    ids=["wrong password", "unknown", "empty", "no role at the bedside"],
)
def test_nobody_else_is_let_in_on_a_tablet(cast, name, password):
    cast.signer, cast.coder  # noqa: B018 - named, so that they exist
    tablet = cast.tablet()
    reply = tablet.signs_in(name, password)
    assert reply.status == 401
    assert tablet.grant is None


def test_guessing_on_a_tablet_is_slowed_as_at_the_desk(cast):
    tablet = cast.tablet()
    cast.signer  # noqa: B018 - named, so that she exists
    for _ in range(5):
        tablet.signs_in("test-ines", "not the password 1")
    assert tablet.signs_in("test-ines", PASSWORD).status == 401


def test_a_person_needs_a_tablet_to_sign_in_on(client, cast):
    cast.administrator.signs_in()
    told = {"name": "test-alf", "password": PASSWORD}
    answer = cast.administrator.client.post("/tablet/person", json=told)
    assert answer.status_code == 401


def test_nobody_signs_in_on_a_revoked_tablet(cast):
    tablet = cast.tablet()
    cast.revokes(tablet)
    assert tablet.signs_in(cast.signer.person.login, PASSWORD).status == 403


@pytest.mark.parametrize(
    "body", [b"", b"[]", b"{}", b'{"name":7,"password":""}', b'{"name":"a"}']
)
def test_a_bad_request_of_a_person_is_told(cast, body):
    tablet = cast.tablet()
    headers = {
        "Authorization": f"Bearer {tablet.token}",
        "Content-Type": "application/json",
    }
    assert tablet.transport.post("/tablet/person", body, headers).status == 400


def wrapped_for(server, name: str, raw: bytes) -> dict[str, str]:
    public = server.public()
    spki = b64decode(public["spki"])
    return wrap_key(name, raw, "tablet", "tablet", public["id"], spki).as_json()


@pytest.fixture
def keyring(app):
    return app.extensions["keyring"]


def asks_to_unlock(tablet, login: str, password: str, wrap: object):
    told = {"name": login, "password": password, "wrap": wrap}
    headers = {
        "Authorization": f"Bearer {tablet.token}",
        "Content-Type": "application/json",
    }
    body = json.dumps(told).encode()
    return tablet.transport.post("/tablet/person", body, headers)


def test_who_signs_in_is_given_the_tablet_s_data_key(cast, keyring):
    tablet, login = cast.tablet(), cast.signer.person.login
    raw = bytes(range(32))
    wrap = wrapped_for(keyring.current(), f"data key of {tablet.id}", raw)
    given = asks_to_unlock(tablet, login, PASSWORD, wrap)
    assert b64decode(given.json["data_key"]) == raw
    refused = asks_to_unlock(tablet, login, "not the password 1", wrap)
    assert refused.status == 401
    assert "data_key" not in refused.json


def test_nothing_but_this_tablet_s_data_key_is_opened_by_signing_in(cast, keyring):
    tablet, other = cast.tablet(), cast.tablet()
    server, raw = keyring.current(), bytes(32)
    mine = f"data key of {tablet.id}"
    record_key = uuid7()
    of_a_record = wrapped_for(server, record_key, raw)
    wraps = [
        wrapped_for(server, f"data key of {other.id}", raw),
        of_a_record,
        # Named anew it is still sealed under its own name.
        {**of_a_record, "key": mine},
        {**wrapped_for(server, mine, raw), "server_key": uuid7()},
        {**wrapped_for(server, mine, raw), "nonce": "?"},
        {"key": mine},
        {"key": mine, "epk": 3},
        [mine],
        "wrap",
        None,
    ]
    for wrap in wraps:
        given = asks_to_unlock(tablet, cast.signer.person.login, PASSWORD, wrap)
        assert given.status == 200
        assert given.json["data_key"] is None
