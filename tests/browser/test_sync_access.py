"""Who may send and read: enrolment, its end, a person's grant."""

from __future__ import annotations

import pytest

from tests.support.browser import wait_until
from tests.support.syncing import (
    ENROL,
    NAME,
    WEIGHT,
    BedsideTablet,
    entries,
    ruling_of,
)
from webapp.people import tablets


@pytest.fixture
def tablet(browser, live, db) -> BedsideTablet:
    return BedsideTablet(browser, live, db)


def test_a_revoked_tablet_says_so_and_keeps_its_entries(tablet, db):
    record = tablet.new_record()
    tablet.syncs_now()
    tablets.revoke(db, tablet.page.evaluate("store.enrolment()")["tablet"]["id"])
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.wait_until_sent()
    assert tablet.status()["reach"] == "revoked"
    assert "strip.revoked" in tablet.notes()
    assert len(tablet.status()["setAside"]) == 1
    assert len(entries(db)) == 1


def test_a_tablet_the_server_does_not_know_sends_again_once_it_is_enrolled(
    browser, live, db
):
    tablet = BedsideTablet(browser, live, db, starts=False)
    who = {"status": 401, "json": {"ok": False, "error": "who"}}
    tablet.page.route("**/sync", lambda route: route.fulfill(**who))
    tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).reach === 'unauthorised'")
    assert "strip.unauthorised" in tablet.notes()
    tablet.page.unroute("**/sync")
    _, code = tablets.add(db, "tablet 1 again")
    assert tablet.page.evaluate(ENROL, code) is None
    tablet.wait_until_sent()
    assert len(entries(db)) == 1


@pytest.mark.parametrize(
    ("code", "problem"), [("AAAA-AAAA", "wrong"), ("", "wrong"), ("x" * 2000, "wrong")]
)
def test_a_code_that_is_not_taken_is_told(browser, live, code, problem):
    tablet = BedsideTablet(browser, live, starts=False)
    assert tablet.page.evaluate(ENROL, code) == problem
    assert tablet.page.evaluate("store.enrolment()") is None


def test_enrolling_without_a_server_is_told(browser, live):
    tablet = BedsideTablet(browser, live, starts=False)
    tablet.page.evaluate("import('/static/js/sync/token.js')")
    live.stop()
    assert tablet.page.evaluate(ENROL, "AAAA-AAAA") == "unreachable"


def test_entries_kept_before_enrolling_are_sent_after_it(browser, live, db):
    tablet = BedsideTablet(browser, live)
    record = tablet.new_record()
    kept = tablet.appends(record, NAME, "ALDERMERE")
    tablet.syncs_now()
    assert tablet.status()["unsent"] == 1
    _, code = tablets.add(db, "tablet 1")
    assert tablet.page.evaluate(ENROL, code) is None
    tablet.wait_until_sent()
    assert [row["id"] for row in entries(db)] == [kept["id"]]
    assert ruling_of(db, kept["id"]) == "counted"


def test_a_person_s_grant_opens_a_record_this_tablet_does_not_hold(tablet, cast):
    other = cast.tablet("tablet 2")
    record = other.opens()
    other.sets(record, WEIGHT, {"as": "80", "n": "80", "unit": "kg"})
    other.syncs()
    tablet.page.evaluate("(record) => store.openRecord(record)", record)
    tablet.syncs_now()
    assert tablet.shows(record, WEIGHT) == []
    signed_in = tablet.page.evaluate(
        """async ([name, password]) => {
          const { signIn } = await import("/static/js/sync/token.js");
          return signIn(window.store, name, password)
            .then((person) => person.name, (problem) => problem.code);
        }""",
        [cast.signer.person.name, "kelp and copper 7"],
    )
    assert signed_in == cast.signer.person.name
    tablet.syncs_now()
    assert [value["n"] for value in tablet.shows(record, WEIGHT)] == ["80"]
