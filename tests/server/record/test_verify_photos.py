"""`verify` walks the photos too: bytes, what is shown of them, what was erased."""

from __future__ import annotations

import pytest

from tests.support.photographs import FIELD, photographed, png, sends, takes_photo
from webapp.app_db import close_held
from webapp.db import connect
from webapp.keep.backup import back_up
from webapp.keep.restore import plan, restore
from webapp.record import erase, photos
from webapp.record.desk import Writer
from webapp.record.keyring import Keyring
from webapp.record.verify import breaks

WRITER = Writer("p", "O. Fell-Example", "supervisor", "Europe/Oslo")


def found(site, db):
    return [one.where for one in breaks(db, Keyring(site.home))]


@pytest.fixture
def unguarded(db):
    """The database past every guard of its photos, as a careless hand opens it."""
    for name, table in db.conn.execute(
        "SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger'"
    ).fetchall():
        if table.startswith("photo"):
            db.conn.execute(f'DROP TRIGGER "{name}"')
    db.conn.execute("PRAGMA foreign_keys = OFF")
    return db


def test_photos_shown_erased_and_awaited_are_all_whole(site, tablet, db):
    takes_photo(tablet, png())
    takes_photo(tablet, b"no picture")
    takes_photo(tablet, png(5, 5))
    erase.erase(db, tablet.own[-1].header.id, WRITER, "another patient's image")
    record = tablet.opens()
    tablet.sets(record, FIELD, photographed(tablet, record, png()).value)
    tablet.syncs()
    assert found(site, db) == []


def test_a_picture_that_was_put_in_another_s_place_is_named(site, tablet, unguarded):
    _, taken = takes_photo(tablet, png())
    unguarded.conn.execute("UPDATE photo_view SET plain_sha256 = ?", ("0" * 64,))
    assert f"photo_view {taken.photo.sealed}" in found(site, unguarded)


def test_bytes_that_changed_are_named(site, tablet, unguarded):
    _, taken = takes_photo(tablet, png())
    unguarded.conn.execute("UPDATE photo SET bytes = x'00'")
    assert f"photo {taken.photo.sealed}" in found(site, unguarded)


def test_an_erasure_without_its_reason_is_named(site, tablet, unguarded):
    entry = takes_photo(tablet, png())[1]
    erase.erase(unguarded, tablet.own[-1].header.id, WRITER, "another's image")
    unguarded.conn.execute("UPDATE photo_erased SET reason_entry = 'x'")
    assert f"photo_erased {entry.photo.sealed}" in found(site, unguarded)


def test_an_erased_photo_that_is_back_is_named(site, tablet, unguarded):
    _, taken = takes_photo(tablet, png())
    erase.erase(unguarded, tablet.own[-1].header.id, WRITER, "another's image")
    photos.keep(unguarded, tablet.id, taken.photo, "2031-11-24T10:00:00.000Z")
    assert f"photo {taken.photo.sealed}" in found(site, unguarded)


def test_a_backup_holds_the_photos_and_a_restore_brings_them_back(
    site, tablet, db, tmp_path
):
    _, taken = takes_photo(tablet, png())
    made = back_up(site, tmp_path / "copy.db")
    assert made.counts["photo"] == 1
    _, later = takes_photo(tablet, png(9, 9))
    db.conn.close()
    close_held()
    restore(site, plan(site, made.file))
    back = connect(site.database)
    assert photos.sealed_bytes(back, taken.photo.sealed) == taken.photo.raw
    assert photos.shown_bytes(back, taken.photo.sealed) is not None
    assert photos.sealed_bytes(back, later.photo.sealed) is None
    assert found(site, back) == []
    back.conn.close()
    assert sends(tablet, later).json["answer"] == "kept"
