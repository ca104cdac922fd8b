"""Take the README's pictures of the screens from the running product.

`python -m tests.pictures` fills a demo and writes the live screens, desk.png and
coding.png to fixtures/pictures. The tablet's clock stands in the middle of the
invented case: with the ages of a day later it would be nobody's screen.
"""

from __future__ import annotations

import tempfile
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from playwright.sync_api import Page, expect, sync_playwright

from tests.support.bedside import Bedside
from tests.support.browser import Browser
from tests.support.server import LiveServer
from tests.support.told_here import FIXTURES, of_file
from webapp.app_db import close_held
from webapp.db import connect
from webapp.demo.commands import prepare
from webapp.demo.site import PASSWORD
from webapp.record.records import listed
from webapp.record.streams import read_stream
from webapp.settings import load

CASE = "demo/1-clean-emergency"
NAMED, NAMELESS = "ALDERMERE, Test-Ines", "NAME NOT KNOWN"
NOW = datetime(2026, 5, 14, 10, 50, tzinfo=ZoneInfo("America/Chicago"))
DESK = {"width": 1440, "height": 900}
PICTURES = FIXTURES / "pictures"

LIVE = (
    ("tablet", "capture", "night"),
    ("tablet-advance", "advance", "night"),
    ("tablet-day", "capture", "day"),
    ("tablet-advance-day", "advance", "day"),
)


def main() -> None:
    """Take all three, each over the one before."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        home = Path(folder) / "home"
        ready = prepare(home)
        signed, open_ = _records(home, NAMED, NAMELESS)
        server = LiveServer(home).start()
        desk = Browser(playwright, Path(folder) / "desk", viewport=DESK)
        for login, path, name in (
            ("tarn", f"/records/{open_}", "desk"),
            ("rill", f"/coding/{signed}", "coding"),
        ):
            page = _signs_in(desk, server.url, login)
            page.goto(server.url + path)
            page.screenshot(path=PICTURES / f"{name}.png")
        desk.close()
        _tablet(Browser(playwright, Path(folder) / "tablet"), server, ready.code)
        server.stop()


def _records(home: Path, *names: str) -> list[str]:
    """Return the ids of the records of these people."""
    db = connect(load(home).database)
    rows = listed(db)
    db.conn.close()
    close_held()
    return [next(row.id for row in rows if row.who.startswith(who)) for who in names]


def _signs_in(browser: Browser, url: str, login: str) -> Page:
    browser.context.clear_cookies()
    page = browser.opens(f"{url}/sign-in")
    page.locator("input[name=login]").fill(login)
    page.locator("input[name=password]").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator(".desk-mark")).to_be_visible()
    return page


def _tablet(browser: Browser, server: LiveServer, code: str) -> None:
    """Enrol, and tell the case up to now, as where no network reaches."""
    browser.context.route("**/sync", lambda route: route.abort())
    page = browser.opens(f"{server.url}/tablet/enrol")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Enrol").click()
    expect(page.locator("#start")).to_be_visible()
    page.close()
    tablet = Bedside(browser, server.url)
    tablet.page.clock.set_fixed_time(NOW)
    told = of_file(CASE)
    until = NOW.astimezone(ZoneInfo("UTC")).strftime("%Y-%m-%dT%H:%M")
    drafts = read_stream(FIXTURES / f"{CASE}.json").drafts
    told.entries = told.entries[: sum(d.at["utc"] <= until for d in drafts)]
    record = told.put(tablet.page)
    tablet.reloads()
    tablet.page.evaluate("(r) => { location.hash = `#/case/${r}/capture`; }", record)
    # The way from Start takes a moment; its own key is the same to look at.
    expect(tablet.page.locator("#case-strip [data-act='who']")).to_be_visible()
    tablet.is_now("K. Ouse-Example", "nurse")
    for name, part, theme in LIVE:
        tablet.page.evaluate(
            "([address, theme]) => { location.hash = address;"
            " document.documentElement.dataset.theme = theme; }",
            [f"#/case/{record}/{part}", theme],
        )
        live = tablet.page.locator(f"#panel[data-part='{part} live']")
        expect(live).to_be_visible()
        # What was found comes once the page has nothing else to do.
        expect(tablet.page.locator("#remark-said [data-weight]")).to_be_visible()
        tablet.page.screenshot(path=PICTURES / f"{name}.png")
    browser.close()


if __name__ == "__main__":
    main()
