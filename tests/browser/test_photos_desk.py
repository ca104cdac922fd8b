"""A photo taken from a file on the tablet's screen is seen at the desk by itself."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.cast import PASSWORD
from tests.support.photographs import (
    BLUE,
    decoded,
    encoded,
    held_sideways,
    is_near,
    png,
    two_colours,
)
from tests.support.syncing import ENROL
from webapp.people import tablets

LABEL = "Photo of the image"
SENT = """(await (async () => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const status = await store.status();
  store.close();
  return status.photosHere === 0 && status.unsent === 0;
})())"""
_ENROL = f"""async (code) => {{
  const {{ openStore }} = await import("/static/js/log/store.js");
  window.store = await openStore();
  const refused = await ({ENROL})(code);
  window.store.close();
  return refused;
}}"""
_LOOSE = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  const names = await base.transact(["photos"], "readonly", (tx) =>
    result(tx.objectStore("photos").getAllKeys()));
  base.close();
  return names;
}"""


@pytest.fixture
def case(browser, live, db):
    """A case on an enrolled tablet, at the question for the image."""
    opened = Bedside(browser, live.url)
    _, code = tablets.add(db, "tablet 2")
    assert opened.page.evaluate(_ENROL, code) is None
    opened.reloads()
    opened.starts_new()
    opened.goes_to("Approach")
    opened.picks("Guidance", "Real-time ultrasound")
    opened.picks("Image stored", "yes")
    return opened


def signed_in(second_browser, live, cast):
    """The desk in another machine's browser, with the signer signed in."""
    signer = cast.signer
    page = second_browser.opens(f"{live.url}/sign-in")
    page.get_by_label("Sign-in name").fill(signer.person.login)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Records")).to_be_visible()
    return page


def test_a_photo_taken_without_a_server_is_seen_at_the_desk(
    case, live, cast, second_browser
):
    case.waits_for(SENT)
    case.can_do_without_server()
    live.stop()
    case.photographs(LABEL, "vein.jpg", held_sideways())
    expect(case.field(LABEL).get_by_role("img")).to_be_visible()
    kept = case.value("approach.image_photo")
    assert kept["type"] == "image/jpeg"
    live.start()
    case.waits_for(SENT)
    page = signed_in(second_browser, live, cast)
    page.goto(f"{live.url}/records/{case.record}")
    image = page.get_by_role("img", name="Photo: Photo of the image")
    expect(image).to_be_visible()
    image.scroll_into_view_if_needed()
    expect(image).to_have_js_property("naturalHeight", 60)
    expect(image).to_have_js_property("naturalWidth", 40)
    box, line = image.bounding_box(), page.locator("[id='approach.image_photo']")
    within = line.bounding_box()
    assert within["x"] <= box["x"]
    assert box["y"] + box["height"] <= within["y"] + within["height"]
    assert second_browser.problems == []
    page.get_by_role("link", name="full size").click()
    expect(page).to_have_url(
        f"{live.url}/records/{case.record}/photos/{kept['sealed']}"
    )
    shown = cast.signer
    shown.signs_in()
    served = shown.opens(f"/records/{case.record}/photos/{kept['sealed']}").data
    assert is_near(decoded(served).getpixel((20, 5)), BLUE)


def test_a_photo_that_waits_is_named_at_the_desk_by_its_tablet(
    case, live, cast, second_browser
):
    case.page.route("**/sync/photo", lambda route: route.abort())
    case.photographs(LABEL, "vein.png", png())
    case.waits_for(SENT.replace("photosHere === 0", "photosHere === 1"))
    page = signed_in(second_browser, live, cast)
    page.goto(f"{live.url}/records/{case.record}")
    expect(page.get_by_text("photo still on tablet 2")).to_be_visible()
    case.page.locator("[data-act='storage']:visible").first.click()
    told = case.page.get_by_text("One photo on this tablet only")
    expect(told.first).to_be_visible()


def test_a_photo_the_server_does_not_take_is_shown_by_what_it_shows(case):
    answer = {"status": 413, "json": {"ok": False, "error": "Larger than 12 MiB."}}
    case.page.route("**/sync/photo", lambda route: route.fulfill(**answer))
    field = case.field(LABEL)
    field.locator(".photo-caption").fill("right jugular vein")
    case.photographs(LABEL, "vein.png", png())
    case.page.locator("[data-act='storage']:visible").first.click()
    item = case.page.locator("[data-photo]")
    expect(item).to_contain_text("right jugular vein")
    expect(item).to_contain_text("Larger than 12 MiB.")
    expect(case.page.get_by_text("Kept here").first).to_be_visible()


@pytest.mark.parametrize(
    ("name", "raw"),
    [
        ("vein.png", encoded(two_colours(), "GIF")),
        ("vein.jpg", b"GIF89a no picture"),
        ("vein.png", png()[:30]),
        ("vein.png", b""),
    ],
    ids=["another kind", "no picture", "half a picture", "nothing"],
)
def test_what_no_server_could_show_is_not_taken_as_a_photo(case, name, raw):
    case.photographs(LABEL, name, raw)
    said = case.field(LABEL).locator(".photo-said")
    expect(said).to_have_text(f"{name} is not a picture. Choose a photo.")
    assert case.page.evaluate(_LOOSE) == []


def test_a_photo_is_shown_while_the_hand_is_still_in_its_field(case):
    field = case.field(LABEL)
    field.locator(".photo-caption").fill("right jugular vein")
    case.photographs(LABEL, "vein.png", png())
    expect(field.get_by_role("img", name="right jugular vein")).to_be_visible()
    expect(field.locator(".photo-caption")).to_be_focused()


def test_a_photo_is_of_the_kind_it_is_and_not_of_its_name(case):
    case.photographs(LABEL, "vein.png", encoded(two_colours(), "JPEG"))
    expect(case.field(LABEL).get_by_role("img")).to_be_visible()
    assert case.value("approach.image_photo")["type"] == "image/jpeg"


def test_a_photo_of_a_row_that_is_given_up_is_let_go(case):
    case.goes_to("Finish")
    case.adds("Film or ultrasound")
    case.photographs("Photo", "film.png", png())
    sheet = case.page.get_by_role("dialog", name="Film or ultrasound")
    expect(sheet.get_by_role("img")).to_be_visible()
    case.photographs("Photo", "film.png", png(9, 9))
    case.waits_for(f"(await ({_LOOSE})()).length === 1")
    sheet.get_by_role("button", name="Discard").click()
    case.waits_for(f"(await ({_LOOSE})()).length === 0")
