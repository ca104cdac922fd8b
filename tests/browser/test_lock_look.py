"""How the lock looks: in each theme, on a tablet and a phone; what it goes on showing."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.support import lock
from tests.support.looking import (
    SIZES,
    clipped,
    covered,
    faint,
    findings,
    small_targets,
    wider_than_screen,
)
from tests.support.scanner import Scanner
from webapp.clinical.policy import load as limits

FAMILY = "Zzyxander"
LEAST_PX = 44


# As the server tells them with each sync.
TOLD_SETTINGS = """async (chosen) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { putMeta } = await import("/static/js/log/meta.js");
  const base = await openBase();
  const told = { lock_after_idle_min: 5, lock_after_idle_running_min: 30, ...chosen };
  await base.transact(["meta"], "readwrite", (tx) => void putMeta(tx, "settings", told));
  base.close();
}"""


@pytest.fixture(scope="module")
def closed_tablet(standing, shared_browser):
    """A tablet with a passphrase and a running case."""
    made = lock.closed_tablet(shared_browser, standing.url, FAMILY)
    made.page.goto(made.address)
    made.is_open()
    return made


def found_on(page, name: str) -> list[str]:
    page.bring_to_front()
    found = []
    for size, (width, height) in SIZES.items():
        page.set_viewport_size({"width": width, "height": height})
        for theme in ("night", "day"):
            page.evaluate("(t) => (document.documentElement.dataset.theme = t)", theme)
            at = f"{name}, {size}, {theme}"
            found += [f"{at} faint: {one}" for one in faint(page)]
            found += [f"{at} sticks out: {one}" for one in wider_than_screen(page)]
            found += [f"{at} cuts: {one}" for one in clipped(page)]
            found += [f"{at} covers: {one}" for one in covered(page)]
        found += [f"{at} small: {one}" for one in small_targets(page, LEAST_PX)]
        found += [f"{at}: {one}" for one in findings(page)]
    page.set_viewport_size({"width": 1280, "height": 800})
    return found


def test_the_lock_and_its_settings_have_no_finding(closed_tablet, standing):
    page = closed_tablet.page
    page.goto(f"{standing.url}/tablet/passphrase")
    expect(page.locator("#pin-form")).to_be_visible()
    found = found_on(page, "passphrase")
    page.goto(closed_tablet.address)
    closed_tablet.is_open()
    lock.locks(page)
    found += found_on(page, "locked")
    lock.unlocks(page, pin="4711")
    lock.is_open(page)
    lock.locks(page)
    expect(page.locator("#by-pin")).to_be_visible()
    found += found_on(page, "locked by PIN")
    lock.unlocks_by_pin(page, "4711")
    lock.is_open(page)
    assert found == [], "\n".join(found)


def test_the_key_that_locks_is_on_every_screen_of_every_size(closed_tablet):
    page = closed_tablet.page
    screens = {
        "#start": "#/",
        "#case": closed_tablet.address,
        "#far": closed_tablet.far,
    }
    for width, height in SIZES.values():
        page.set_viewport_size({"width": width, "height": height})
        for screen, address in screens.items():
            page.evaluate("(at) => (location.hash = at.split('#')[1])", address)
            # The key of the screen before it is still there until this one stands.
            expect(page.locator(screen)).to_be_visible()
            key = page.locator("[data-act=lock]:visible")
            expect(key).to_have_count(1)
            key.click(trial=True)
            assert wider_than_screen(page) == []
    page.set_viewport_size({"width": 1280, "height": 800})


def test_settings_of_a_test_and_the_numbers_stay_in_sight_without_a_name(closed_tablet):
    page = closed_tablet.page
    page.goto("about:blank")
    page.goto(closed_tablet.address)
    closed_tablet.is_open()
    closed_tablet.goes_to("Capture")
    page.get_by_role("button", name="Threshold test", exact=True).click()
    closed_tablet.picks("Kind of test", "Full test")
    closed_tablet.keeps_row()
    page.get_by_role("button", name="Add: Output reading").first.click()
    closed_tablet.types("Dial called", "1.2")
    closed_tablet.picks("Result", "Captures")
    closed_tablet.keeps_row()
    expect(page.locator("#stand")).to_contain_text("TEST SETTINGS 1.2 mA")
    lock.locks(page)
    shown = page.locator("#shown")
    expect(shown).to_contain_text("TEST SETTINGS · 1.2 mA · since")
    expect(shown).to_contain_text("As it stood at")
    expect(shown).to_contain_text("Threshold")
    # A point that is drawn large is written here: 1.2 is no "1 2".
    expect(shown.locator("li").nth(3)).to_contain_text("· 1.2\u00a0mA ·")
    assert "milliamps" not in shown.inner_text()
    assert FAMILY not in page.content()
    lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("#stand")).to_contain_text("TEST SETTINGS 1.2 mA")
    # A site may want no numbers in a corridor; a test that is open is told all the same.
    page.evaluate(TOLD_SETTINGS, {"lock_shows_numbers": False})
    lock.locks(page)
    expect(shown).to_contain_text("TEST SETTINGS · 1.2 mA · since")
    assert "As it stood" not in shown.inner_text()
    lock.unlocks(page)
    lock.is_open(page)
    page.evaluate(TOLD_SETTINGS, {"lock_shows_numbers": True})


def test_the_card_for_a_loss_of_capture_waits_for_no_passphrase(closed_tablet):
    page = closed_tablet.page
    page.goto("about:blank")
    page.goto(closed_tablet.address)
    closed_tablet.is_open()
    lock.locks(page)
    page.get_by_text("Capture lost: the hospital's card").click()
    card = limits().rows["capture_lost_card"].value
    lines = [line.strip() for line in card.splitlines() if line.strip()]
    expect(page.locator("#card-lines li")).to_have_text(lines)
    assert FAMILY not in page.content()
    lock.unlocks(page)
    lock.is_open(page)


def test_a_code_that_is_no_wristband_does_not_keep_it_open(closed_tablet):
    """Nothing of it is lost, and there is nothing to try again."""
    page = closed_tablet.page
    page.goto("about:blank")
    page.goto(closed_tablet.address)
    closed_tablet.is_open()
    Scanner(page).scans("=A99991234567800")
    expect(page.locator("#kept")).to_contain_text("NOT kept")
    lock.locks(page)
    lock.unlocks(page)
    lock.is_open(page)
