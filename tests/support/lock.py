"""The lock of a tablet as a person meets it: set, locked, opened again."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.support.bedside import Bedside
from tests.support.browser import Browser

WORDS = "copper violin meadow lantern"
OTHER_WORDS = "walnut harbor pencil orchid"
NAME = "Test-Mira FJORDHOLM"


def sets_passphrase(page: Page, url: str, words: str = WORDS, name: str = NAME) -> None:
    """Set the first passphrase, and wait until the tablet says who can open it."""
    page.goto(f"{url}/tablet/passphrase")
    expect(page.locator("#setting")).to_be_visible()
    page.get_by_label("Name").fill(name)
    page.get_by_label("Passphrase", exact=True).fill(words)
    page.get_by_label("Once more").fill(words)
    page.get_by_role("button", name="Set the passphrase").click()
    expect(page.locator("#state")).to_contain_text(f"Who can unlock it: {name}")


def closed_tablet(browser: Browser, url: str, family: str) -> Bedside:
    """Return a tablet with a passphrase and one running case, of this family name."""
    made = Bedside(browser, url)
    made.starts_now()
    made.types("Family name", family)
    made.keeps("patient.family_name", family)
    made.address = made.page.url
    made.far = f"#/far/{made.record}"
    sets_passphrase(made.page, url)
    return made


def is_locked(page: Page) -> None:
    """Wait until the page is the lock's own document."""
    page.wait_for_url(re.compile(r"/tablet/lock"))
    expect(page.get_by_role("heading", name="Locked")).to_be_visible()


def locks(page: Page) -> None:
    """Tap the key that locks."""
    page.locator("[data-act=lock]:visible").click()
    is_locked(page)


def unlocks(page: Page, words: str = WORDS, pin: str = "") -> None:
    """Open the lock by passphrase, also where a PIN is asked for first."""
    expect(
        page.locator("#by-pin:not([hidden]), #by-passphrase:not([hidden])")
    ).to_have_count(1)
    if page.locator("#by-pin").is_visible():
        page.get_by_role("button", name="With the passphrase").click()
    page.get_by_label("Passphrase", exact=True).fill(words)
    if pin:
        page.get_by_label("PIN for the time").fill(pin)
    page.get_by_role("button", name="Unlock", exact=True).click()


def unlocks_by_pin(page: Page, pin: str) -> None:
    """Try a PIN."""
    page.get_by_label("PIN", exact=True).fill(pin)
    page.get_by_role("button", name="Unlock", exact=True).click()


def is_open(page: Page) -> None:
    """Wait until the tablet's own page stands again, drawn."""
    page.wait_for_url(re.compile(r"/tablet/(#|$)"))
    expect(page.locator("#boot")).to_have_count(0)


def types_new(page: Page, words: str) -> None:
    """Type a new passphrase twice, and set it."""
    page.get_by_label("Passphrase", exact=True).fill(words)
    page.get_by_label("Once more").fill(words)
    page.get_by_role("button", name="Set the passphrase").click()
