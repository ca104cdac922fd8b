"""HEAD asks what GET would say; it never does what POST does."""

import pytest

from tests.support.cast import ADMINISTRATOR, CODER, SIGNER
from tests.support.replies import NAME, everything
from webapp.people import accounts

ALL_ROLES = sorted({*SIGNER.roles, *CODER.roles, *ADMINISTRATOR.roles})


@pytest.fixture
def record(tablet):
    opened = tablet.opens()
    tablet.sets(opened, NAME, "ALDERMERE")
    tablet.syncs()
    return opened


def addresses(app, record):
    """Every address that can be read, and whether it can be posted to as well."""
    found = []
    for rule in app.url_map.iter_rules():
        if "GET" in rule.methods and rule.endpoint != "static":
            values = dict.fromkeys(rule.arguments, record)
            _, path = rule.build(values, append_unknown=False)
            found.append((path, "POST" in rule.methods))
    return found


def test_head_is_answered_as_get_at_every_address(app, cast, db, record):
    db.conn.execute("UPDATE person SET roles = ?", (" ".join(ALL_ROLES),))
    cast.signer.signs_in()
    browser = cast.signer.client
    asked = {"Accept": "text/html,*/*;q=0.8"}
    both = 0
    for path, takes_posts in addresses(app, record):
        query = "?path=patient.family_name" if path.endswith("/answer") else ""
        get = browser.get(path + query, headers=asked)
        before = everything(db)
        head = browser.head(path + query, headers=asked)
        assert (head.status_code, head.data) == (get.status_code, b""), path
        assert everything(db) == before, path
        both += takes_posts
    assert both >= 3


def test_head_neither_signs_nor_signs_in(cast, db, record):
    login = cast.signer.person.login
    tried = cast.signer.client.head("/sign-in", data={"login": login, "password": "x"})
    assert tried.status_code == 200
    assert db["sign_in_failure"].count == 0
    cast.signer.signs_in()
    assert cast.signer.client.head(f"/records/{record}/sign").status_code == 200
    assert db["note"].count == 0


def test_head_sends_nobody_to_sign_in_otherwise_than_get(client):
    for method in ("GET", "HEAD"):
        answer = client.open("/records", method=method, headers={"Accept": "text/html"})
        assert (answer.status_code, answer.location) == (302, "/sign-in?next=/records")


def test_the_roles_of_the_cast_are_all_there_are():
    assert set(ALL_ROLES) <= set(accounts.ROLES)
