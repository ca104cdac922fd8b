"""A person's grant on a tablet."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.support.cast import CODER, SIGNER, hashed_once
from webapp.people import accounts, grants, tablets

NOW = datetime(2031, 11, 24, 10, 0, tzinfo=UTC)


@pytest.fixture
def tablet(db):
    return tablets.add(db, "tablet 2")[0]


@pytest.fixture
def person(db):
    return accounts.add(db, SIGNER, hashed_once)


def test_a_grant_holds_for_its_hours_and_no_longer(db, tablet, person):
    grant = grants.give(db, tablet.id, person, 12, now=NOW)
    almost = NOW + timedelta(hours=12) - timedelta(seconds=1)
    assert grants.holder(db, tablet.id, grant.token, almost) == person
    over = NOW + timedelta(hours=12)
    assert grants.holder(db, tablet.id, grant.token, over) is None


def test_a_grant_holds_on_its_own_tablet_only(db, tablet, person):
    other, _ = tablets.add(db, "tablet 3")
    grant = grants.give(db, tablet.id, person, 12, now=NOW)
    assert grants.holder(db, other.id, grant.token, NOW) is None


def test_a_second_grant_ends_the_first(db, tablet, person):
    first = grants.give(db, tablet.id, person, 12, now=NOW)
    second = grants.give(db, tablet.id, person, 12, now=NOW)
    assert grants.holder(db, tablet.id, first.token, NOW) is None
    assert grants.holder(db, tablet.id, second.token, NOW) == person


def test_a_grant_ends_with_the_account_and_with_the_tablet(db, tablet, person):
    grant = grants.give(db, tablet.id, person, 12, now=NOW)
    accounts.deactivate(db, person.id)
    assert grants.holder(db, tablet.id, grant.token, NOW) is None
    accounts.reactivate(db, person.id)
    again = grants.give(db, tablet.id, person, 12, now=NOW)
    tablets.revoke(db, tablet.id)
    assert grants.holder(db, tablet.id, again.token, NOW) is None


def test_one_without_a_role_at_the_bedside_opens_nothing(db, tablet):
    coder = accounts.add(db, CODER, hashed_once)
    grant = grants.give(db, tablet.id, coder, 12, now=NOW)
    assert grants.holder(db, tablet.id, grant.token, NOW) is None


@pytest.mark.parametrize("token", ["", "\ud800", "somebody"])
def test_no_other_token_is_a_grant(db, tablet, person, token):
    grants.give(db, tablet.id, person, 12, now=NOW)
    assert grants.holder(db, tablet.id, token, NOW) is None
