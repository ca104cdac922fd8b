"""`POST /sync/photo` and `POST /sync/photos`: every answer, every order."""

from __future__ import annotations

import json
import secrets

import pytest

from tests.support.photographs import (
    FIELD,
    PHOTO_TYPE,
    asks,
    photographed,
    png,
    posts,
    sends,
    takes_photo,
)
from webapp.people import tablets
from webapp.record import erase, photos
from webapp.record.desk import Writer
from webapp.record.entry import sha256_hex, uuid7
from webapp.record.log import entry_by_id
from webapp.record.photo import MOST_ASKED
from webapp.say import say
from webapp.settings import UnusableSettings, load

WRITER = Writer("p", "O. Fell-Example", "supervisor", "Europe/Oslo")
MIB = 1024 * 1024


@pytest.fixture
def taken(tablet):
    """A photo that nobody has sent, and no entry names."""
    return photographed(tablet, tablet.opens(), png())


def kept(db):
    return [row["sealed_sha256"] for row in db["photo"].rows]


def told(reply):
    return reply.status, reply.json["answer"], reply.json["because"]


def test_a_photo_is_kept_and_answered_for_by_its_name(tablet, taken, db):
    reply = sends(tablet, taken)
    assert told(reply) == (200, "kept", None)
    assert reply.json["sealed"] == taken.photo.sealed
    assert kept(db) == [taken.photo.sealed]
    assert photos.sealed_bytes(db, taken.photo.sealed) == taken.photo.raw
    view = photos.view(db, taken.photo.sealed)
    assert (view.plain_sha256, view.size) == (sha256_hex(png()), len(png()))


def test_a_photo_sent_twice_is_had_and_stands_once(tablet, taken, db):
    sends(tablet, taken)
    before = [tuple(row) for row in db.conn.execute("SELECT * FROM photo")]
    assert told(sends(tablet, taken)) == (200, "had", None)
    assert [tuple(row) for row in db.conn.execute("SELECT * FROM photo")] == before


def test_photos_add_no_entry_and_move_no_head(tablet, db):
    _, taken = takes_photo(tablet, png())
    head = tablet.head
    assert told(sends(tablet, taken)) == (200, "had", None)
    assert tablet.exchanges()["head"] == head


@pytest.mark.parametrize("authorization", [None, "", "Bearer nobody", "Basic dDp0"])
def test_no_token_that_is_known_is_nobody(client, taken, db, authorization):
    headers = {"Authorization": authorization} if authorization is not None else {}
    for path in ("/sync/photo", "/sync/photos"):
        answer = client.post(
            path, data=taken.photo.encode(), headers=headers, content_type=PHOTO_TYPE
        )
        assert (answer.status_code, answer.json["ok"]) == (401, False)
    assert kept(db) == []


def test_a_cookie_alone_is_nobody(cast, taken, db):
    administrator = cast.administrator
    administrator.signs_in()
    answer = administrator.client.post(
        "/sync/photo", data=taken.photo.encode(), content_type=PHOTO_TYPE
    )
    assert answer.status_code == 401
    assert kept(db) == []


@pytest.mark.parametrize("method", ["get", "put", "delete"])
@pytest.mark.parametrize("path", ["/sync/photo", "/sync/photos"])
def test_no_other_method_is_taken(client, method, path):
    assert getattr(client, method)(path).status_code == 405


def malformed(taken):
    whole = taken.photo.encode()
    length = int.from_bytes(whole[:4], "big")
    head = json.loads(whole[4 : 4 + length])

    def with_head(text):
        return len(text).to_bytes(4, "big") + text + taken.photo.raw

    def changed(**parts):
        return with_head(json.dumps({**head, **parts}).encode())

    wrap = head["wrap"]
    return {
        "length": (b"", "head"),
        "cut": (whole[:50], "head"),
        "long head": (b"\xff\xff\xff\xff" + whole[4:], "head"),
        "no JSON": (with_head(b"\xff{"), "head"),
        "a list": (with_head(b"[]"), "head"),
        "deep": (with_head(b"[" * 9000), "head"),
        "version": (changed(v=True), "v"),
        "no name": (changed(sealed=None), "sealed"),
        "a loud name": (changed(sealed=taken.photo.sealed.upper()), "sealed"),
        "a long name": (changed(sealed=taken.photo.sealed + "\n"), "sealed"),
        "record": (changed(record="../x"), "record"),
        "log": (changed(log="desk"), "log"),
        "key": (changed(key=7), "key"),
        "wrap": (changed(wrap={"key": "x"}), "wrap"),
        "a wrap of another key": (changed(wrap={**wrap, "key": uuid7()}), "wrap"),
        "a wrap of another record": (changed(wrap={**wrap, "record": uuid7()}), "wrap"),
        "a wrap for no server": (changed(wrap={**wrap, "server_key": "-"}), "wrap"),
    }


def test_what_is_no_photo_is_told_where_and_nothing_is_kept(tablet, taken, db):
    for name, (body, field) in malformed(taken).items():
        reply = posts(tablet, body)
        assert reply.status == 400, name
        assert [e["field"] for e in reply.json["errors"]] == [field], name
    assert kept(db) == []


def test_another_content_type_is_told(tablet, taken):
    reply = sends(tablet, taken, **{"Content-Type": "text/plain"})
    assert reply.status == 400
    assert reply.json["errors"][0]["field"] == "Content-Type"


def test_bytes_that_are_not_those_of_the_name_are_damaged_on_the_way(tablet, taken, db):
    raw = bytearray(taken.photo.raw)
    raw[20] ^= 1
    reply = sends(tablet, taken.changed(raw=bytes(raw)))
    assert (reply.status, reply.json["error"]) == (400, say("photo.refused.damaged"))
    assert sends(tablet, taken.changed(raw=b"")).status == 400
    assert kept(db) == []
    assert told(sends(tablet, taken))[1] == "kept"


def test_a_photo_over_the_limit_is_told_the_limit_and_kept_by_its_tablet(
    app, tablet, db, site
):
    limit = site.photo_max_mib
    record = tablet.opens()
    largest = photographed(tablet, record, secrets.token_bytes(limit * MIB))
    reply = sends(tablet, largest)
    assert told(reply) == (200, "kept", say("photo.cannot.kind"))
    for more in (1, 64 * 1024, 6 * MIB):
        over = photographed(tablet, record, bytes(limit * MIB + more))
        reply = sends(tablet, over)
        assert reply.status == 413
        assert reply.json["error"] == say("photo.too_large", mib=limit)
        assert f"{limit} MiB" in reply.json["error"]
    assert kept(db) == [largest.photo.sealed]


def test_the_asked_are_told_the_limit_before_they_send(tablet, site):
    most = asks(tablet, []).json["most_bytes"]
    photo = photographed(tablet, tablet.opens(), bytes(site.photo_max_mib * MIB))
    assert len(photo.photo.raw) == most


@pytest.mark.parametrize("is_entry_first", [True, False])
def test_entry_and_photo_may_come_in_either_order(tablet, cast, db, is_entry_first):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    tablet.sets(record, FIELD, taken.value)
    steps = [tablet.syncs, lambda: sends(tablet, taken)]
    for step in steps if is_entry_first else reversed(steps):
        step()
    cast.signer.signs_in()
    shown = cast.signer.opens(f"/records/{record}/photos/{taken.photo.sealed}")
    assert shown.status_code == 200


def test_the_log_of_another_tablet_is_not_written_for(tablet, other_tablet, taken, db):
    sends(tablet, taken)
    tablet.sets(taken.photo.record, FIELD, taken.value)
    tablet.syncs()
    stranger = photographed(tablet, taken.photo.record, png(20, 20))
    reply = sends(other_tablet, stranger)
    assert (reply.status, reply.json["error"]) == (403, say("refused.log"))
    assert kept(db) == [taken.photo.sealed]


def test_a_second_tablet_may_add_its_own_photo_to_a_record(
    tablet, other_tablet, taken, db
):
    sends(tablet, taken)
    other_tablet.opens(taken.photo.record)
    own = photographed(other_tablet, taken.photo.record, png(20, 20))
    assert told(sends(other_tablet, own)) == (200, "kept", None)
    assert len(kept(db)) == 2


def test_a_name_that_is_taken_in_another_record_is_a_conflict(tablet, taken, db):
    sends(tablet, taken)
    elsewhere = photographed(tablet, tablet.opens(), png(5, 5))
    moved = elsewhere.changed(sealed=taken.photo.sealed, raw=taken.photo.raw)
    reply = sends(tablet, moved)
    assert (reply.status, reply.json["error"]) == (409, say("photo.refused.taken"))
    assert len(kept(db)) == 1


def test_a_photo_whose_seal_does_not_open_is_kept_and_opened_once_its_key_comes(
    tablet, taken, db
):
    without = taken.changed(wrap=None)
    assert told(sends(tablet, without)) == (200, "kept", say("photo.cannot.seal"))
    assert photos.view(db, taken.photo.sealed) is None
    assert told(sends(tablet, taken)) == (200, "had", None)
    assert photos.view(db, taken.photo.sealed) is not None


def test_a_photo_sealed_with_another_key_is_kept_and_never_a_failure(tablet, taken, db):
    other = photographed(tablet, tablet.opens(), png())
    raw = other.photo.raw
    wrong = taken.changed(sealed=sha256_hex(raw), raw=raw)
    assert told(sends(tablet, wrong)) == (200, "kept", say("photo.cannot.seal"))
    short = taken.changed(sealed=sha256_hex(b"x"), raw=b"x")
    assert told(sends(tablet, short)) == (200, "kept", say("photo.cannot.seal"))


def test_a_revoked_tablet_sends_only_what_an_entry_names(tablet, cast, db):
    record = tablet.opens()
    named, unnamed = (photographed(tablet, record, png(9, n)) for n in (8, 9))
    tablet.sets(record, FIELD, named.value)
    tablet.syncs()
    cast.revokes(tablet)
    reply = sends(tablet, named)
    assert (told(reply), reply.json["revoked"]) == ((200, "kept", None), True)
    reply = sends(tablet, unnamed)
    assert (reply.status, reply.json["error"]) == (403, say("photo.refused.revoked"))
    assert kept(db) == [named.photo.sealed]


def test_a_tablet_that_lost_its_token_sends_under_its_new_one(tablet, taken, db):
    sends(tablet, taken)
    _, code = tablets.add(db, "tablet 2 again")
    again = type(tablet).enrols(tablet.transport, code, tablet.token)
    again.writer = tablet.writer
    second = photographed(again, taken.photo.record, png(30, 30))
    assert told(sends(again, second))[1] == "kept"


def test_a_tablet_asks_what_the_server_lacks(tablet, taken, db):
    other = photographed(tablet, taken.photo.record, png(5, 5))
    sends(tablet, taken)
    reply = asks(tablet, [taken.photo.sealed, other.photo.sealed])
    assert reply.json["lacks"] == [other.photo.sealed]
    assert reply.json["erased"] == []


@pytest.mark.parametrize(
    "digests",
    [None, "x", ["x"], [1], [["a" * 64]], ["A" * 64], ["a" * 64] * (MOST_ASKED + 1)],
)
def test_a_question_that_is_none_is_told_so(tablet, digests):
    assert asks(tablet, digests).status == 400


def test_a_question_that_is_too_long_or_no_json_is_told_so(client, tablet):
    headers = {"Authorization": f"Bearer {tablet.token}"}
    for body, status in ((b"[" * 9000, 400), (b"\xff", 400), (b"x" * 200_000, 413)):
        answer = client.post("/sync/photos", data=body, headers=headers)
        assert (answer.status_code, answer.json["ok"]) == (status, False)


def test_an_erased_entry_takes_its_photo_along_for_good(site, tablet, db):
    original = png(31, 33)
    record, taken = takes_photo(tablet, original)
    entry = tablet.own[-1].header.id
    why = erase.erase(db, entry, WRITER, "another patient's image")
    assert kept(db) == []
    assert db["photo_view"].count == 0
    [row] = db["photo_erased"].rows
    assert (row["sealed_sha256"], row["record"]) == (taken.photo.sealed, record)
    assert row["reason_entry"] == why
    assert entry_by_id(db, why) is not None
    assert told(sends(tablet, taken)) == (200, "erased", None)
    assert asks(tablet, [taken.photo.sealed]).json["erased"] == [taken.photo.sealed]
    assert kept(db) == []
    wal = site.database.with_name(site.database.name + "-wal")
    left = site.database.read_bytes() + (wal.read_bytes() if wal.exists() else b"")
    assert taken.photo.raw not in left
    assert taken.photo.raw[-200:] not in left


def test_a_photo_that_comes_after_its_entry_was_erased_is_not_kept(tablet, db):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    entry = tablet.adds(record, "finish.imaging", {"photo": taken.value})
    tablet.syncs()
    erase.erase(db, entry, WRITER, "another patient's image")
    assert told(sends(tablet, taken)) == (200, "erased", None)
    assert kept(db) == []


def test_erasing_an_entry_that_names_another_record_s_photo_leaves_it(tablet, db):
    _, taken = takes_photo(tablet, png())
    other = tablet.opens()
    entry = tablet.sets(other, FIELD, taken.value)
    tablet.syncs()
    erase.erase(db, entry, WRITER, "taken from another record")
    assert kept(db) == [taken.photo.sealed]


def test_no_photo_that_is_kept_is_changed_replaced_or_removed(tablet, taken, db):
    sends(tablet, taken)
    for statement in (
        "UPDATE photo SET record = 'x'",
        "DELETE FROM photo",
        "INSERT OR REPLACE INTO photo SELECT * FROM photo",
    ):
        with pytest.raises(Exception, match="photo"):
            db.conn.execute(statement)
    assert kept(db) == [taken.photo.sealed]


@pytest.mark.parametrize("mib", [0, 16])
def test_a_limit_that_no_request_could_hold_stops_the_start(tmp_path, mib):
    (tmp_path / "wiremark.toml").write_text(f"photo_max_mib = {mib}\n", "utf-8")
    with pytest.raises(UnusableSettings, match="photo_max_mib is 1 to 15"):
        load(tmp_path)
