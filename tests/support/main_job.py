"""The main job's steps: a told case entered without network, found again, sent, signed."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path
from typing import Any

from pdfminer.high_level import extract_text
from playwright.sync_api import Page, expect

from tests.support.bedside import Bedside
from tests.support.browser import Browser
from tests.support.cast import PASSWORD
from tests.support.fingers import Fingers
from tests.support.hands import Hands
from tests.support.keys import Keys
from tests.support.server import LiveServer
from webapp.people import tablets
from webapp.record.open_record import OpenRecord, open_record
from webapp.settings import Settings, load

FIXTURES = Path(__file__).parents[2] / "fixtures"
SITE = """
hospital = "Example Harbour Hospital"
facility = "EXHB"
zone = "America/Chicago"

[cpt_enabled]
by = "R. Wend-Example"
role = "administrator"
on = "2026-01-02"
licence_reference = "test only"
"""
# What a browser says when the ward's network comes back; else it asks within a minute.
NETWORK_IS_BACK = "window.dispatchEvent(new Event('online'))"
# And of one that comes and goes: whoever waits for another tablet's answer waits no minute.
NETWORK_COMES_AND_GOES = (
    "void setInterval(() => dispatchEvent(new Event('online')), 500)"
)
# What the key "Start now, no name" keeps by itself.
STARTED = ("patient.start",)


def coding_site(home: Path) -> Settings:
    """A site that may see procedure numbers, in the zone the cases are told in."""
    home.mkdir()
    (home / "wiremark.toml").write_text(SITE, encoding="utf-8")
    return load(home)


class Desk:
    """A person at a workstation, with a browser of their own."""

    def __init__(self, browser: Browser, live: LiveServer, person: Any) -> None:
        self.browser, self.live = browser, live
        self.page = browser.opens(f"{live.url}/sign-in")
        self.page.locator("input[name=login]").fill(person.login)
        self.page.locator("input[name=password]").fill(PASSWORD)
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page.locator("main")).to_be_visible()

    def opens(self, path: str) -> None:
        """Open a page of the desk."""
        self.page.goto(f"{self.live.url}{path}")

    def signs(self, record: str) -> None:
        """Sign a record."""
        self.opens(f"/records/{record}/sign")
        self.page.get_by_role("checkbox").check()
        self.page.get_by_label(re.compile("^Password of")).fill(PASSWORD)
        self.page.get_by_role("button", name="Sign", exact=True).click()
        expect(self.page.locator(".state-word")).to_have_text("Signed")

    def downloads(self, path: str) -> bytes:
        """Return a file as it is served."""
        answer = self.page.request.get(f"{self.live.url}{path}")
        assert answer.ok, (path, answer.status)
        return answer.body()

    def leaves(self) -> None:
        """Sign out."""
        self.page.get_by_role("button", name="Sign out").click()
        expect(self.page.locator("input[name=login]")).to_be_visible()


def enrols(browser: Browser, live: LiveServer, db: Any, name: str = "Tablet 2") -> Page:
    """Enrol the tablet with a one-time code and wait until it can go without us."""
    _, code = tablets.add(db, name)
    page = browser.opens(f"{live.url}/tablet/enrol")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Enrol").click()
    page.wait_for_url(f"{live.url}/tablet/")
    expect(page.locator("#start-strip")).to_contain_text("Ready without network")
    return page


def entered_without_network(
    browser: Browser,
    live: LiveServer,
    db: Any,
    name: str,
    hands: type[Fingers] | type[Keys] = Fingers,
    upto: int | None = None,
) -> tuple[Bedside, str, dict[str, Any]]:
    """Enter a told case with the server stopped, kill the browser, find it again.

    `hands`: whose, a finger's or a keyboard's; `upto`: only so many of its entries.
    """
    enrols(browser, live, db).close()
    live.stop()
    bedside = Bedside(browser, live.url)
    by = hands(bedside)
    by.is_now("K. Ouse-Example", "nurse")
    by.starts_now()
    Hands(bedside, FIXTURES / f"{name}.json", by).enters(STARTED, upto=upto)
    record, before = bedside.record, bedside.fold()
    assert not by.unseen, by.unseen
    browser.kill()
    again = Bedside(browser, live.url)
    again.page.goto(f"{live.url}/tablet/#/case/{record}")
    expect(again.page.locator("#case")).to_be_visible()
    assert again.fold() == before
    return again, record, before


def arrives(
    bedside: Bedside, live: LiveServer, db: Any, before: dict[str, Any]
) -> OpenRecord:
    """Start the server and wait until everything has arrived by itself."""
    live.start()
    bedside.page.evaluate(NETWORK_IS_BACK)
    expect(bedside.page.locator("#case-strip")).to_contain_text(
        re.compile("On the server"), timeout=90_000
    )
    found = open_record(db, bedside.record)
    assert found.case.fold == before
    assert not found.set_aside
    return found


def signed_and_coded(
    second_browser: Browser, live: LiveServer, cast: Any, record: str
) -> tuple[str, str, list[dict[str, str]]]:
    """Sign at the desk, download the note, then the coder downloads the lines."""
    desk = Desk(second_browser, live, cast.signer.person)
    desk.opens(f"/records/{record}")
    shown = desk.page.locator("main").inner_text()
    desk.signs(record)
    note = extract_text(io.BytesIO(desk.downloads(f"/records/{record}/note.pdf")))
    desk.leaves()
    coder = Desk(second_browser, live, cast.coder.person)
    raw = coder.downloads(f"/records/{record}/codes.csv").decode("utf-8-sig")
    assert second_browser.problems == []
    return shown, " ".join(note.split()), list(csv.DictReader(io.StringIO(raw)))


def lines(
    rows: list[dict[str, str]], view: str = "professional"
) -> dict[tuple[str, str], dict[str, str]]:
    """Return the lines of one view by system and code."""
    return {
        (row["code_system"], row["code"]): row for row in rows if row["view"] == view
    }
