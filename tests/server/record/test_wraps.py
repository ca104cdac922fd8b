"""The wraps of sealing keys that came with requests."""

import secrets
from dataclasses import replace

import pytest

from webapp.db import writing
from webapp.record import wraps
from webapp.record.entry import uuid7
from webapp.record.keyring import Keyring
from webapp.record.seal import make_server_key, public_spki, wrap_key
from webapp.record.wraps import Keys

RECORD, LOG = uuid7(), uuid7()


@pytest.fixture
def keyring(site):
    return Keyring(site.home)


@pytest.fixture
def tablet(db):
    return "0199c0de-0000-7000-8000-000000000001"


def wrapped(server_key, key=None, key_id=None):
    sealing = key or secrets.token_bytes(32)
    return wrap_key(
        key_id or uuid7(), sealing, RECORD, LOG, server_key.id, server_key.spki
    )


def elsewhere():
    """A server key that this server does not have."""
    private = make_server_key()

    class Key:
        id = uuid7()
        spki = public_spki(private)

    return Key


def kept(db):
    rows = db.conn.execute("SELECT key, wrapped FROM wrap")
    return {row[0]: row[1] for row in rows}


def keeps(db, keyring, tablet, *given):
    with writing(db):
        wraps.keep(db, tablet, given, Keys(keyring, given))


def test_a_key_is_opened_for_its_own_record_and_log_only(keyring):
    key = secrets.token_bytes(32)
    wrap = wrapped(keyring.current(), key)
    keys = Keys(keyring, [wrap])
    assert keys.key_for(wrap.key, RECORD, LOG) == key
    assert keys.key_for(wrap.key, uuid7(), LOG) is None
    assert keys.key_for(wrap.key, RECORD, uuid7()) is None
    assert keys.key_for(uuid7(), RECORD, LOG) is None


def test_a_key_that_came_before_is_found_again(db, keyring, tablet):
    key = secrets.token_bytes(32)
    wrap = wrapped(keyring.current(), key)
    keeps(db, keyring, tablet, wrap)
    later = Keys(keyring, [])
    later.add_kept(db, [wrap.key])
    assert later.key_for(wrap.key, RECORD, LOG) == key


def test_a_damaged_wrap_is_not_kept_and_does_not_displace_a_good_one(
    db, keyring, tablet
):
    good = wrapped(keyring.current())
    damaged = replace(good, wrapped=bytes([good.wrapped[0] ^ 1]) + good.wrapped[1:])
    keeps(db, keyring, tablet, damaged)
    assert kept(db) == {}
    keeps(db, keyring, tablet, good)
    keeps(db, keyring, tablet, damaged)
    assert kept(db) == {good.key: good.wrapped}
    keys = Keys(keyring, [damaged])
    keys.add_kept(db, [good.key])
    assert keys.key_for(good.key, RECORD, LOG) is not None


def test_a_wrap_for_a_key_that_is_not_here_is_kept_until_one_opens(db, keyring, tablet):
    lost = wrapped(elsewhere())
    keeps(db, keyring, tablet, lost)
    assert kept(db) == {lost.key: lost.wrapped}
    better = wrapped(keyring.current(), key_id=lost.key)
    keeps(db, keyring, tablet, better)
    assert kept(db) == {lost.key: better.wrapped}
    keeps(db, keyring, tablet, lost)
    assert kept(db) == {lost.key: better.wrapped}


def test_a_key_never_moves_to_another_record_or_log(db, keyring, tablet):
    first = wrapped(keyring.current())
    keeps(db, keyring, tablet, first)
    moved = replace(wrapped(keyring.current(), key_id=first.key), record=uuid7())
    keeps(db, keyring, tablet, moved)
    assert kept(db) == {first.key: first.wrapped}


def test_an_older_server_key_still_opens_what_was_wrapped_for_it(keyring, site):
    old = keyring.current()
    wrap = wrapped(old)
    keyring._make()
    renewed = Keyring(site.home)
    assert renewed.current().id != old.id
    assert Keys(renewed, [wrap]).opens(wrap)


def test_a_renewed_key_is_the_newest_whatever_the_clock_says(keyring, monkeypatch):
    keyring.current()
    monkeypatch.setattr("webapp.record.entry.time.time", lambda: 1_000_000.0)
    made = [keyring._make() for _ in range(3)]
    assert made == sorted(made)
    assert keyring.current().id == made[-1]
