"""Accounts, on a real database."""

from dataclasses import replace

import pytest

from tests.support.cast import CODER, PASSWORD, SIGNER, hashed_once
from webapp.people import access_log, accounts, grants, tablets
from webapp.people.accounts import CannotKeep, NewPerson


def added(db, new=SIGNER):
    return accounts.add(db, new, hashed_once)


def refused(db, new):
    with pytest.raises(CannotKeep) as caught:
        added(db, new)
    return {problem.field for problem in caught.value.problems}


def test_an_account_is_read_back_as_it_was_given(db):
    person = added(db)
    assert accounts.by_id(db, person.id) == person
    assert person.name == "Test-Ines ALDERMERE"
    assert person.npi == "1234567893"
    assert person.billing_group == "Example Harbour Physicians"
    assert person.roles == ("operator", "supervisor")


def test_roles_stand_in_one_order_however_they_were_given(db):
    person = added(db, replace(SIGNER, roles=("coder", "supervisor", "operator")))
    assert person.roles == ("operator", "supervisor", "coder")
    assert person.role == "operator"


def test_a_name_of_any_script_is_kept_as_typed(db):
    name = "<b>Ó'Brien & Søn</b> 山田 محمد"
    assert added(db, replace(SIGNER, name=name)).name == name


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"login": ""}, "login"),
        ({"login": "two words"}, "login"),
        ({"login": "@enrol"}, "login"),
        ({"login": "x" * 65}, "login"),
        ({"login": "a\x00b"}, "login"),
        ({"name": "  "}, "name"),
        ({"name": "x" * 121}, "name"),
        ({"roles": ()}, "roles"),
        ({"roles": ("pilot",)}, "roles"),
        ({"roles": ("coder", "pilot")}, "roles"),
        ({"npi": "1234567890"}, "npi"),
        ({"npi": "12345"}, "npi"),
        ({"password": "short"}, "password"),
    ],
    ids=lambda value: str(value)[:30],
)
def test_what_is_wrong_is_named_by_its_field(db, change, field):
    assert refused(db, replace(SIGNER, **change)) == {field}
    assert accounts.people(db) == []


def test_everything_wrong_is_told_at_once(db):
    assert refused(db, NewPerson("", "", (), "")) == {
        "login",
        "name",
        "roles",
        "password",
    }


def test_a_sign_in_name_is_taken_once_in_any_case(db):
    added(db)
    assert refused(db, replace(CODER, login="TEST-INES")) == {"login"}
    assert len(accounts.people(db)) == 1


def test_a_person_is_found_however_their_name_is_typed(db):
    person = added(db)
    assert accounts.by_login(db, " Test-INES ") == person
    assert accounts.by_login(db, "somebody") is None


def test_the_right_password_and_only_that_is_verified(db):
    person = added(db)
    assert accounts.verified(db, "test-ines", PASSWORD) == person
    assert accounts.verified(db, "test-ines", PASSWORD + " ") is None
    assert accounts.verified(db, "nobody", PASSWORD) is None


def test_a_deactivated_person_is_not_verified_and_comes_back_with_the_same_word(db):
    person = added(db)
    accounts.deactivate(db, person.id)
    assert accounts.verified(db, "test-ines", PASSWORD) is None
    assert accounts.active_people(db) == []
    accounts.reactivate(db, person.id)
    assert accounts.verified(db, "test-ines", PASSWORD) is not None


def test_deactivating_ends_sessions_and_grants(db):
    person = added(db)
    tablet, _ = tablets.add(db, "tablet 2")
    grant = grants.give(db, tablet.id, person, 12)
    accounts.deactivate(db, person.id)
    after = accounts.by_id(db, person.id)
    assert after.session_version > person.session_version
    assert grants.holder(db, tablet.id, grant.token) is None


def test_deactivating_twice_keeps_the_first_moment(db):
    person = added(db)
    accounts.deactivate(db, person.id)
    first = accounts.by_id(db, person.id).deactivated_at
    accounts.deactivate(db, person.id)
    assert accounts.by_id(db, person.id).deactivated_at == first


def test_a_new_password_ends_the_old_one_and_every_session(db):
    person = added(db)
    accounts.change_password(db, person.id, "basalt and rope 11")
    assert accounts.verified(db, "test-ines", PASSWORD) is None
    after = accounts.verified(db, "test-ines", "basalt and rope 11")
    assert after.session_version == person.session_version + 1


def test_too_short_a_new_password_leaves_the_old_one(db):
    person = added(db)
    with pytest.raises(CannotKeep):
        accounts.change_password(db, person.id, "short")
    assert accounts.verified(db, "test-ines", PASSWORD) == person


def test_active_people_come_before_those_who_left(db):
    left = added(db)
    stays = added(db, CODER)
    accounts.deactivate(db, left.id)
    assert [p.id for p in accounts.people(db)] == [stays.id, left.id]


def test_a_tablet_is_told_name_role_and_credential_and_no_more(db):
    assert added(db).as_listed() == {
        "id": accounts.by_login(db, "test-ines").id,
        "name": "Test-Ines ALDERMERE",
        "role": "operator",
        "credential": "MD",
    }


def test_each_change_of_an_account_is_in_the_access_log(db):
    person = added(db)
    accounts.deactivate(db, person.id)
    accounts.reactivate(db, person.id)
    accounts.change_password(db, person.id, "basalt and rope 11")
    told = [line.what for line in reversed(access_log.latest(db))]
    assert told == [
        "person:add",
        "person:deactivate",
        "person:reactivate",
        "person:change_password",
    ]
