"""A tablet is told which limits each of its records began with, and names its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.support.cast import Cast
from webapp.app import create_app
from webapp.clinical.policy import load
from webapp.clinical.policy_kept import named, written
from webapp.record import pinned_limits

STRICTER = {"threshold_margin_target": "3.5", "margin_if_dependent": "4"}
SHIPPED, STRICT = (named(written(load(policy))) for policy in ({}, STRICTER))
NAME = "patient.family_name"


@pytest.fixture
def stricter(site, db, tablet) -> Cast:
    """The same site, started again with other limits; a record began before."""
    return Cast(create_app(replace(site, policy=STRICTER)), db)


def begins(tablet, name: str = "") -> str:
    """Begin a record with one entry; `name`: of the limits the tablet says."""
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    opened = [{"record": record, "since": 0, "tips": [], "limits": name}]
    reply = tablet.posts(tablet.request(open=opened, limits=[]))
    assert reply.status == 200
    return record


def asks(tablet, record: str, held: list[str]):
    opened = [{"record": record, "since": 0, "tips": []}]
    return tablet.posts(tablet.request(open=opened, limits=held)).json["limits"]


def began_with(db, record: str) -> str:
    found = pinned_limits.limits_of(db, record, load({"drift_factor": "3"}))
    return named(written(found))


def test_a_tablet_that_asks_is_given_the_limits_of_its_records_and_those_in_use(
    site, db, tablet
):
    record = begins(tablet)
    create_app(replace(site, policy=STRICTER))
    told = asks(tablet, record, [])
    assert (told["of"], told["in_use"]) == ({record: SHIPPED}, STRICT)
    assert {one["digest"] for one in told["given"]} == {SHIPPED, STRICT}


def test_what_it_holds_is_not_given_again(tablet):
    record = begins(tablet)
    assert asks(tablet, record, [SHIPPED])["given"] == []


def test_what_is_given_is_as_in_the_form(client, tablet):
    record = begins(tablet)
    in_form = client.get("/catalogue.json").json["policy"]
    assert asks(tablet, record, [])["given"] == [in_form]


def test_a_tablet_of_an_earlier_release_is_told_none(tablet):
    tablet.opens()
    assert "limits" not in tablet.exchanges()


def test_a_record_begun_without_network_keeps_the_limits_of_its_form(db, stricter):
    assert began_with(db, begins(stricter.tablet(), SHIPPED)) == SHIPPED


def test_limits_that_were_never_in_use_here_pin_nothing(db, stricter):
    assert began_with(db, begins(stricter.tablet(), "ab" * 32)) == STRICT


def test_what_a_tablet_says_later_changes_no_limit(site, db, tablet):
    record = begins(tablet)
    later = Cast(create_app(replace(site, policy=STRICTER)), db).tablet()
    later.opens(record)
    later.sets(record, NAME, "ALDERMERE-EXAMPLE")
    opened = [{"record": record, "since": 0, "tips": [], "limits": STRICT}]
    later.posts(later.request(open=opened, limits=[]))
    assert began_with(db, record) == SHIPPED


@pytest.mark.parametrize("said", [None, 7, "ab", "AB" * 32, ["x"], {}])
def test_a_name_that_cannot_be_holds_up_no_entry(db, tablet, said):
    assert began_with(db, begins(tablet, said)) == SHIPPED


@pytest.mark.parametrize("held", [[7], ["ab"], [None, {}]])
def test_names_held_that_cannot_be_are_passed_over(tablet, held):
    record = begins(tablet)
    assert len(asks(tablet, record, held)["given"]) == 1


def test_a_record_it_may_not_open_tells_it_nothing(cast, tablet):
    record = begins(tablet)
    assert asks(cast.tablet(), record, [])["of"] == {}
