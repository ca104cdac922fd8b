"""Photos at the desk: the picture beside its field, or in words why there is none."""

from __future__ import annotations

import pytest

from tests.support.html import Page
from tests.support.notes import flat, read
from tests.support.photographs import (
    BLUE,
    FIELD,
    bomb,
    decoded,
    encoded,
    held_sideways,
    is_near,
    photographed,
    png,
    sends,
    takes_photo,
    two_colours,
)
from tests.support.signing import signs
from webapp.people import access_log
from webapp.record import erase
from webapp.record.desk import Writer
from webapp.record.entry import sha256_hex
from webapp.say import say

WRITER = Writer("p", "O. Fell-Example", "supervisor", "Europe/Oslo")


@pytest.fixture
def desk(cast):
    cast.signer.signs_in()
    return cast.signer


def address(record, taken):
    return f"/records/{record}/photos/{taken.photo.sealed}"


def images(page):
    return [tag for tag in Page(page.text).tags if tag.name == "img"]


def test_a_photo_stands_beside_its_field_and_opens_in_full_size(tablet, desk):
    record, taken = takes_photo(tablet, held_sideways(), kind="image/jpeg")
    page = desk.opens(f"/records/{record}")
    [image] = images(page)
    assert image["src"] == address(record, taken)
    assert image.is_inside("figure")
    assert image["alt"] == "Photo: RV, 34 cm"
    assert taken.value["sha256"] in page.text
    links = [t for t in Page(page.text).tags if t.get("href") == image["src"]]
    assert say("photo.full_size") in [link.text for link in links]
    shown = desk.opens(image["src"])
    assert shown.status_code == 200
    assert decoded(shown.data).size == (40, 60)
    assert is_near(decoded(shown.data).getpixel((20, 5)), BLUE)


def test_what_is_served_is_a_picture_for_nobody_to_keep_or_to_guess_at(tablet, desk):
    record, taken = takes_photo(tablet, png(), caption="../<b>")
    headers = desk.opens(address(record, taken)).headers
    assert headers["Content-Type"] == "image/jpeg"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cache-Control"] == "no-store"
    assert "default-src 'none'" in headers["Content-Security-Policy"]
    name = f"wiremark-{record[:8]}-{taken.photo.sealed[:8]}.jpg"
    assert headers["Content-Disposition"] == f'inline; filename="{name}"'


def test_the_original_is_never_served(tablet, desk):
    original = encoded(two_colours(), "JPEG", comment=b"a maker's name", quality=97)
    record, taken = takes_photo(tablet, original, kind="image/jpeg")
    shown = desk.opens(address(record, taken)).data
    assert shown != original
    assert b"maker" not in shown


def test_who_looked_at_a_photo_is_noted(tablet, desk, db):
    record, taken = takes_photo(tablet, png())
    desk.opens(address(record, taken))
    looked = access_log.of_record(db, record)[0]
    assert (looked.what, looked.detail) == ("photo:open", taken.photo.sealed)
    assert looked.person == desk.person.id


def test_only_those_who_read_records_see_photos(tablet, cast, client):
    record, taken = takes_photo(tablet, png())
    assert client.get(address(record, taken)).status_code == 401
    for actor, status in (
        (cast.coder, 403),
        (cast.recorder, 403),
        (cast.administrator, 200),
    ):
        actor.signs_in()
        assert actor.opens(address(record, taken)).status_code == status


@pytest.mark.parametrize(
    "change",
    [
        lambda record, taken: f"/records/{record}/photos/{'0' * 64}",
        lambda record, taken: f"/records/{record}/photos/x",
        lambda record, taken: f"/records/{record[::-1]}/photos/{taken.photo.sealed}",
        lambda record, taken: f"/records/{record}/photos/{taken.value['sha256']}",
    ],
)
def test_a_photo_that_is_not_there_is_not_found(tablet, desk, change):
    record, taken = takes_photo(tablet, png())
    assert desk.opens(change(record, taken)).status_code == 404


def test_a_photo_that_has_not_come_is_said_to_be_on_its_tablet(cast, desk):
    tablet = cast.tablet("tablet 2")
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    tablet.sets(record, FIELD, taken.value)
    tablet.syncs()
    page = desk.opens(f"/records/{record}")
    assert "photo still on tablet 2" in page.text
    assert images(page) == []
    assert desk.opens(address(record, taken)).status_code == 404
    sends(tablet, taken)
    page = desk.opens(f"/records/{record}")
    assert "photo still on" not in page.text
    assert len(images(page)) == 1


HOSTILE = {
    "nothing": (b"x", "photo.cannot.kind"),
    "half": (png(600, 400)[:300], "photo.cannot.broken"),
    "a bomb": (bomb(), "photo.cannot.pixels"),
    "a script": (b"<svg onload=alert(1)>", "photo.cannot.kind"),
    "a page": (b"<html><script>alert(1)</script>", "photo.cannot.kind"),
}


@pytest.mark.parametrize(("original", "because"), HOSTILE.values(), ids=HOSTILE)
def test_a_photo_that_cannot_be_shown_says_why_and_is_kept(
    tablet, desk, db, original, because
):
    record, taken = takes_photo(tablet, original)
    page = desk.opens(f"/records/{record}")
    assert say("photo.cannot", because=say(because)) in page.text
    assert images(page) == []
    assert desk.opens(address(record, taken)).status_code == 404
    assert db["photo"].count == 1


def test_a_photo_that_is_not_the_one_the_entry_names_is_not_shown(tablet, desk):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    tablet.sets(record, FIELD, {**taken.value, "sha256": "0" * 64})
    tablet.syncs()
    sends(tablet, taken)
    page = desk.opens(f"/records/{record}")
    assert say("photo.cannot.differs") in page.text
    assert desk.opens(address(record, taken)).status_code == 404


@pytest.mark.parametrize(
    ("change", "remark"),
    [({"type": "image/jpeg"}, "photo.remark.type"), ({"size": 9}, "photo.remark.size")],
    ids=["kind", "size"],
)
def test_an_entry_that_tells_another_kind_or_size_is_remarked_on(
    tablet, desk, change, remark
):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    tablet.sets(record, FIELD, {**taken.value, **change})
    tablet.syncs()
    sends(tablet, taken)
    page = desk.opens(f"/records/{record}")
    assert say(remark) in page.text
    assert len(images(page)) == 1


def test_another_record_s_photo_is_not_shown_by_naming_it(tablet, desk):
    _, taken = takes_photo(tablet, png())
    other = tablet.opens()
    tablet.sets(other, FIELD, taken.value)
    tablet.syncs()
    assert say("photo.cannot.record") in desk.opens(f"/records/{other}").text
    assert desk.opens(address(other, taken)).status_code == 404


def test_a_photo_of_an_entry_that_does_not_count_is_not_shown(cast, tablet, desk):
    record, shown = takes_photo(tablet, png())
    aside = photographed(tablet, record, png(9, 9))
    tablet.sets(record, "no.such_field", aside.value)
    tablet.syncs()
    sends(tablet, aside)
    assert [i["src"] for i in images(desk.opens(f"/records/{record}"))] == [
        address(record, shown)
    ]
    assert desk.opens(address(record, aside)).status_code == 404


def test_photos_in_rows_stand_in_their_rows_and_a_struck_one_only_as_a_link(
    tablet, desk
):
    record = tablet.opens()
    first, second = (photographed(tablet, record, png(9, n)) for n in (8, 9))
    row = tablet.adds(record, "finish.imaging", {"photo": first.value})
    tablet.adds(record, "finish.imaging", {"photo": second.value})
    tablet.strikes(record, "finish.imaging", row, "another patient")
    tablet.syncs()
    for taken in (first, second):
        sends(tablet, taken)
    page = desk.opens(f"/records/{record}")
    assert [image["src"] for image in images(page)] == [address(record, second)]
    assert say("photo.struck") in page.text
    assert address(record, first) in page.text


def test_two_answers_are_two_photos(tablet, other_tablet, desk):
    record = tablet.opens()
    other_tablet.opens(record)
    for one, size in ((tablet, 8), (other_tablet, 9)):
        taken = photographed(one, record, png(size, size))
        one.sets(record, FIELD, taken.value, seen=[])
        one.syncs()
        sends(one, taken)
    assert len(images(desk.opens(f"/records/{record}"))) == 2


def test_an_erased_photo_leaves_its_word(tablet, desk, db):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    first = tablet.sets(record, FIELD, taken.value)
    tablet.sets(record, FIELD, {**taken.value, "caption": "put right"})
    tablet.syncs()
    sends(tablet, taken)
    erase.erase(db, first, WRITER, "another patient's image")
    page = desk.opens(f"/records/{record}")
    assert say("photo.gone") in page.text
    assert images(page) == []
    assert desk.opens(address(record, taken)).status_code == 404


def test_a_photo_that_came_after_the_signature_says_so(tablet, desk):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    tablet.sets(record, FIELD, taken.value)
    tablet.syncs()
    assert signs(desk, record).status_code == 302
    sends(tablet, taken)
    assert say("photo.late") in desk.opens(f"/records/{record}").text


def test_a_signed_note_does_not_change_when_its_photo_comes_later(tablet, desk, db):
    record = tablet.opens()
    taken = photographed(tablet, record, png())
    tablet.sets(record, FIELD, taken.value)
    tablet.syncs()
    awaited = say("sign.photos_awaited", n=1)
    assert awaited in desk.opens(f"/records/{record}/sign").text
    draft = desk.opens(f"/records/{record}/note.pdf").data
    assert pictures(draft) == 0
    assert signs(desk, record).status_code == 302
    signed = desk.opens(f"/records/{record}/note.pdf").data
    sends(tablet, taken)
    assert desk.opens(f"/records/{record}/note.pdf").data == signed
    assert sha256_hex(signed) == next(row["pdf_sha256"] for row in db["note"].rows)
    text = read(signed).text
    assert flat(say("note.photo_awaited")) in text
    assert flat(say("note.photo_on", tablet=tablet.name)) in text


def test_the_note_of_this_moment_prints_the_photo(tablet, desk):
    record, _ = takes_photo(tablet, png())
    assert pictures(desk.opens(f"/records/{record}/note.pdf").data) == 1


@pytest.mark.parametrize(("original", "because"), HOSTILE.values(), ids=HOSTILE)
def test_the_note_says_why_a_photo_is_not_printed(tablet, desk, original, because):
    record, taken = takes_photo(tablet, original)
    pdf = desk.opens(f"/records/{record}/note.pdf").data
    assert pictures(pdf) == 0
    found = read(pdf)
    assert flat(say("note.photo_cannot", because=say(because))) in found.text
    assert taken.value["sha256"] in found.letters


def pictures(pdf):
    return pdf.count(b"/Subtype /Image")


def test_a_caption_is_text_wherever_it_stands(tablet, desk):
    caption = "<img src=x onerror=alert(1)>\"'"
    record, _ = takes_photo(tablet, png(), caption=caption)
    [image] = images(desk.opens(f"/records/{record}"))
    assert image["alt"] == f"Photo: {caption}"
