"""Every address of the application, tried by everybody, against one table."""

import re
import tomllib
from pathlib import Path

import pytest

from tests.support.cast import PASSWORD, Actor, csrf_token, hashed_once
from tests.support.replies import NAME
from tests.support.signing import adds, signs
from webapp.people import accounts
from webapp.people.accounts import ROLES, NewPerson

TABLE = tomllib.loads(
    Path(__file__).with_name("access_table.toml").read_text(encoding="utf-8")
)["route"]
ROWS = {row["at"]: row for row in TABLE}
BY_ROLE = [row for row in TABLE if row["by"] == "role"]
NAMING = [row for row in BY_ROLE if "missing" in row]
# An id of the right shape that nothing has.
SAMPLE = "0199c0de-0000-7000-8000-000000000001"
PLACE = re.compile(r"<(?:\w+:)?(\w+)>")
PROGRAM = {"Accept": "application/json"}


class Place:
    """A site with one signed and added-to record, and somebody in each role."""

    def __init__(self, app, cast, db, tablet) -> None:
        self.app, self.token = app, tablet.token
        record = tablet.opens()
        tablet.sets(record, NAME, "ALDERMERE")
        tablet.syncs()
        cast.signer.signs_in()
        signs(cast.signer, record)
        assert adds(cast.signer, record).status_code == 302
        self.there = {
            **{"record": record, "tablet": cast.tablet().id, "number": "1"},
            **{"version": app.extensions["limits"].version, "sealed": "0" * 64},
        }
        self.actors = {}
        for role in ROLES:
            new = NewPerson(f"only-{role}", f"Only-{role} EXAMPLE", (role,), PASSWORD)
            self.actors[role] = Actor(app, accounts.add(db, new, hashed_once))

    def asks(self, client, row, there=None, **headers):
        """Ask as a form would, with the token that this browser was last given."""
        method, rule = row["at"].split(" ")
        values = self.there if there is None else there
        path = PLACE.sub(lambda found: values.get(found[1], SAMPLE), rule)
        token = csrf_token(client.get("/sign-in"))
        told = {"csrf_token": token} if method != "GET" else None
        return client.open(path, method=method, data=told, headers=headers)

    def signed_in(self, role):
        """Return the browser of somebody who has this role only."""
        self.actors[role].signs_in()
        return self.actors[role].client


@pytest.fixture
def place(app, cast, db, tablet):
    return Place(app, cast, db, tablet)


def test_every_address_has_a_row_and_every_row_an_address(app):
    there = {
        f"{method} {rule.rule}"
        for rule in app.url_map.iter_rules()
        for method in rule.methods - {"HEAD", "OPTIONS"}
    }
    assert there == set(ROWS)
    assert len(ROWS) == len(TABLE)


def test_every_row_that_names_a_thing_says_what_is_told_when_it_is_not_there():
    for row in BY_ROLE:
        assert ("missing" in row) == ("<" in row["at"]), row["at"]
        assert set(row["roles"]) <= set(ROLES)


def test_nobody_is_let_in_by_role(place):
    client = place.app.test_client()
    for row in BY_ROLE:
        answer = place.asks(client, row, **PROGRAM)
        assert answer.status_code == 401, row["at"]
        missing = place.asks(client, row, there={}, **PROGRAM)
        assert missing.data == answer.data, row["at"]


def test_nobody_who_reads_a_page_is_sent_to_sign_in(place):
    client = place.app.test_client()
    for row in BY_ROLE:
        if row["at"].startswith("GET"):
            answer = place.asks(client, row, Accept="text/html")
            assert answer.status_code == 302, row["at"]
            assert answer.location.startswith("/sign-in?next="), row["at"]


@pytest.mark.parametrize("role", ROLES)
def test_a_role_reaches_what_its_rows_say_and_nothing_else(place, role):
    client = place.signed_in(role)
    for row in BY_ROLE:
        wanted = row["answer"] if role in row["roles"] else 403
        answer = place.asks(client, row)
        assert answer.status_code == wanted, (row["at"], answer.text[:400])


@pytest.mark.parametrize("role", ROLES)
def test_a_wrong_role_cannot_tell_what_is_there_from_what_is_not(place, role):
    client = place.signed_in(role)
    for row in NAMING:
        missing = place.asks(client, row, there={})
        if role in row["roles"]:
            assert missing.status_code == row["missing"], row["at"]
        else:
            there = place.asks(client, row)
            assert missing.status_code == there.status_code == 403, row["at"]
            assert missing.data == there.data, row["at"]


def test_the_words_are_the_same_for_what_is_missing_and_what_is_not_ones_own(place):
    row = ROWS["GET /records/<record>"]
    missing = place.asks(place.signed_in("nurse"), row, there={}, **PROGRAM)
    not_ones_own = place.asks(place.signed_in("coder"), row, **PROGRAM)
    assert missing.json["error"] == not_ones_own.json["error"]


def test_a_tablets_token_opens_no_page_of_the_desk(place):
    client = place.app.test_client()
    for row in BY_ROLE:
        answer = place.asks(
            client, row, Authorization=f"Bearer {place.token}", **PROGRAM
        )
        assert answer.status_code == 401, row["at"]


@pytest.mark.parametrize("role", ["operator", "administrator"])
def test_a_session_opens_nothing_that_asks_for_a_token_or_a_code(place, role):
    client = place.signed_in(role)
    for row in TABLE:
        if row["by"] == "token":
            assert place.asks(client, row).status_code == 401, row["at"]
    answer = client.post("/tablet/enrol", json={"code": "00000000"})
    assert answer.status_code == 401


def test_a_token_is_looked_at_before_what_was_sent(place):
    client = place.app.test_client()
    for row in TABLE:
        if row["by"] == "token":
            given = place.asks(client, row, Authorization=f"Bearer {place.token}")
            assert given.status_code == row["answer"], row["at"]
            wrong = place.asks(client, row, Authorization="Bearer x")
            assert wrong.status_code == 401, row["at"]


def test_anybody_is_let_in_where_the_table_says_so(place):
    client = place.app.test_client()
    for row in TABLE:
        if row["by"] == "anybody":
            answer = place.asks(client, row)
            assert answer.status_code == row["answer"], row["at"]


@pytest.mark.parametrize("token", ["none", "former"])
def test_no_form_is_taken_without_its_sessions_own_token(place, token):
    for row in TABLE:
        if row["by"] not in ("role", "anybody") or not row["at"].startswith("POST"):
            continue
        client = place.app.test_client()
        former = csrf_token(client.get("/sign-in"))
        role = row.get("roles", ["operator"])[0]
        place.actors[role].client = client
        place.signed_in(role)
        path = PLACE.sub(
            lambda found: place.there.get(found[1], SAMPLE), row["at"].split(" ")[1]
        )
        told = {"csrf_token": former} if token == "former" else {}
        answer = client.post(path, data=told)
        assert answer.status_code == 400, row["at"]


def test_a_thing_of_one_record_is_not_found_by_the_address_of_another(place, tablet):
    other = tablet.opens()
    tablet.sets(other, NAME, "BRENNHAVN")
    tablet.syncs()
    client = place.signed_in("operator")
    own, others = place.there, {**place.there, "record": other}
    row = ROWS["GET /records/<record>/added/<number>.pdf"]
    assert place.asks(client, row, own).status_code == 200
    assert place.asks(client, row, others).status_code == 404
    version = "/records/{}/note.pdf?version=1"
    assert client.get(version.format(own["record"])).status_code == 200
    assert client.get(version.format(other)).status_code == 404
