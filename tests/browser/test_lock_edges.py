"""What a browser keeps of a page by itself: a print of it, the page gone back to; and a
finger that is down when the minutes are over."""

from __future__ import annotations

import shutil
import subprocess
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from tests.support import lock
from tests.support.browser import Browser

FAMILY = "Zzyxander"
# Tests' browsers leave no page aside, people's do; without windows none does.
KEEPS_PAGES = {
    "ignore_default_args": ["--disable-back-forward-cache"],
    "executable_path": shutil.which("chromium"),
}
# How a page came to be shown, and whether it was one that had been left aside.
SHOWN = """() => {
  window.wasAside = false;
  addEventListener("pageshow", ({ persisted }) => (window.wasAside ||= persisted));
}"""

DRAWN_ANEW = """(family) => !window.isLeft && !document.querySelector("#boot")
  && document.querySelector("#case-strip")?.textContent.includes(family)"""


@pytest.fixture(scope="module")
def tablet(standing, playwright_here, tmp_path_factory):
    """A tablet with a passphrase and a running case, in a browser as people have it."""
    folder = tmp_path_factory.mktemp("kept")
    browser = Browser(playwright_here, folder, **KEEPS_PAGES)
    made = lock.closed_tablet(browser, standing.url, FAMILY)
    yield made
    browser.close()


def unlocked(tablet):
    page = tablet.page
    page.goto("about:blank")
    page.goto(tablet.address)
    stands = page.locator("#case:not([hidden]), #by-passphrase:not([hidden])")
    expect(stands).to_have_count(1)
    if page.locator("#by-passphrase").is_visible():
        lock.unlocks(page)
    lock.is_open(page)
    expect(page.locator("#case-strip")).to_contain_text(FAMILY)
    return page


def goes(page, way):
    """Go a page back or on; one that was left aside tells nobody that it loads."""
    page.evaluate("(way) => void setTimeout(() => history[way]())", way)


def test_a_print_of_a_locked_tablet_names_nobody(tablet, tmp_path):
    def printed(page, name):
        file = tmp_path / name
        page.pdf(path=str(file))
        told = subprocess.run(
            ["pdftotext", str(file), "-"], check=True, capture_output=True
        )
        return told.stdout.decode()

    page = unlocked(tablet)
    assert FAMILY in printed(page, "open.pdf")
    lock.locks(page)
    text = printed(page, "locked.pdf")
    assert "Locked" in text
    assert FAMILY not in text


def test_a_page_the_browser_left_aside_is_not_shown_again(tablet, standing):
    page = unlocked(tablet)
    # This browser does leave pages aside: one without a tablet's key on it comes back.
    page.goto(f"{standing.url}/sign-in")
    page.evaluate(SHOWN)
    page.goto(tablet.address)
    lock.is_open(page)
    page.evaluate("window.isLeft = true")
    goes(page, "back")
    page.wait_for_url("**/sign-in", wait_until="commit")
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert page.evaluate("window.wasAside") is True
    goes(page, "forward")
    # A tablet that was left aside goes by the lock, and stands open in a document of its own.
    page.wait_for_function(DRAWN_ANEW, arg=FAMILY)
    lock.is_open(page)
    page.goto(f"{standing.url}/sign-in")
    other = tablet.browser.opens(tablet.address)
    lock.locks(other)
    other.close()
    goes(page, "back")
    lock.is_locked(page)
    assert FAMILY not in page.content()
    assert page.title() == "Wiremark"


def test_a_finger_that_is_down_when_the_minutes_are_over_finishes_its_tap(tablet):
    unlocked(tablet)
    page = tablet.browser.context.new_page()
    page.clock.install(time=datetime.now(UTC) + timedelta(hours=3))
    page.goto(tablet.address)
    lock.is_open(page)
    stop = page.get_by_role("link", name="Consent").first
    expect(stop).to_be_visible()
    box = stop.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.clock.fast_forward("04:50")
    page.mouse.down()
    page.clock.fast_forward("00:20")
    page.clock.run_for(6000)
    expect(page.locator("#case-strip")).to_contain_text(FAMILY)
    page.mouse.up()
    expect(page.get_by_role("heading", name="Consent", level=2)).to_be_visible()
    # Nobody there again: then it does.
    page.clock.fast_forward("06:00")
    page.clock.run_for(6000)
    lock.is_locked(page)
    page.close()
