"""Tablets: codes used once, tokens kept as fingerprints."""

from datetime import UTC, datetime, timedelta

import pytest

from tests.support.tablet import Tablet
from tests.support.transport import InProcess
from webapp.people import tablets
from webapp.people.accounts import CannotKeep

NOW = datetime(2031, 11, 24, 10, 0, tzinfo=UTC)


def enrolled(db, name="tablet 2"):
    _, code = tablets.add(db, name)
    return tablets.redeem(db, code)


def test_a_code_has_eight_signs_none_of_which_looks_like_another():
    codes = "".join(tablets.new_code() for _ in range(200))
    assert len(codes) == 8 * 200
    assert not set(codes) & set("ILOU")


def test_a_code_works_once(db):
    added, code = tablets.add(db, "tablet 2")
    tablet, _ = tablets.redeem(db, code)
    assert tablet.id == added.id
    assert tablets.redeem(db, code) is None


def test_a_code_is_read_however_it_was_typed(db):
    _, code = tablets.add(db, "tablet 2")
    typed = f" {code[:4].lower()}-{code[4:]} ".replace("0", "o").replace("1", "l")
    assert tablets.redeem(db, typed) is not None


def test_a_code_ends_after_a_day(db):
    _, code = tablets.add(db, "tablet 2", now=NOW)
    late = NOW + timedelta(hours=24)
    assert tablets.redeem(db, code, now=late) is None
    assert tablets.redeem(db, code, now=late - timedelta(seconds=1)) is not None


@pytest.mark.parametrize("code", ["", "00000000", "\ud800", "x" * 10_000])
def test_no_other_code_works(db, code):
    tablets.add(db, "tablet 2")
    assert tablets.redeem(db, code) is None


def test_neither_code_nor_token_stands_in_the_database(db):
    _, code = tablets.add(db, "tablet 2")
    _, other = tablets.add(db, "tablet 3")
    _, token = tablets.redeem(db, code)
    rows = [tuple(r) for r in db.conn.execute("SELECT * FROM tablet")]
    text = str(rows)
    assert other not in text
    assert token not in text


def test_a_token_names_its_tablet_and_no_other_does(db):
    tablet, token = enrolled(db)
    assert tablets.by_token(db, token) == tablet
    assert tablets.by_token(db, token + "x") is None
    assert tablets.by_token(db, "") is None


def test_a_revoked_tablet_is_still_known_by_its_token(db):
    tablet, token = enrolled(db)
    tablets.revoke(db, tablet.id)
    assert tablets.by_token(db, token).is_revoked


def test_revoking_ends_a_code_that_waits(db):
    tablet, code = tablets.add(db, "tablet 2")
    tablets.revoke(db, tablet.id)
    assert tablets.redeem(db, code) is None


def test_a_new_code_lets_a_revoked_tablet_in_under_its_own_name(db):
    tablet, token = enrolled(db)
    tablets.revoke(db, tablet.id)
    again, new_token = tablets.redeem(db, tablets.renew(db, tablet.id))
    assert again.id == tablet.id
    assert not again.is_revoked
    assert tablets.by_token(db, token) is None
    assert tablets.by_token(db, new_token) == again


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "a\x00b"])
def test_a_name_that_cannot_be_read_off_the_tablet_is_refused(db, name):
    with pytest.raises(CannotKeep, match="tablet's name"):
        tablets.add(db, name)
    assert tablets.tablets(db) == []


def test_a_name_is_taken_once(db):
    tablets.add(db, "tablet 2")
    with pytest.raises(CannotKeep, match="already called"):
        tablets.add(db, " tablet  2 ")


def test_the_list_says_what_each_tablet_announced_and_holds_back(app, db):
    _, code = tablets.add(db, "tablet 2")
    tablet = Tablet.enrols(InProcess(app), code)
    record = tablet.opens()
    for number in range(3):
        tablet.sets(record, "patient.family_name", f"ALDER {number}")
    tablet.exchanges(tablet.own[:1])
    assert [one.undelivered for one in tablets.tablets(db)] == [2]
    tablet.syncs()
    assert [one.undelivered for one in tablets.tablets(db)] == [0]
