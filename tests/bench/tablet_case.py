"""Records on a real tablet's disk, written through the tablet's own append path.

The whole demo case is told again and again: answers replace answers, rows join rows,
the wire is added once.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, Playwright

from tests.support.browser import Browser, wait_until
from tests.support.server import LiveServer
from tests.support.store_page import StorePage
from tests.support.syncing import ARRIVED, START
from webapp.db import connect
from webapp.paths import demo_folder
from webapp.people import tablets
from webapp.record.streams import read_stream
from webapp.settings import load

CASE = "1-clean-emergency.json"
_AT_ONCE = 500
_SENT_WITHIN_S = 600
# Ids of the drafts become the ids that this tablet gave the entries.
_TELL = """async ([record, entries]) => {
  window.ids ??= {};
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  for (const { id, ...told } of entries) {
    const text = JSON.stringify(told).replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g,
      (old) => window.ids[old] ?? old);
    window.ids[id] = (await store.append(record, { ...JSON.parse(text), author })).id;
  }
}"""
_READY = """(await (await import("/static/js/sw-bridge.js")).readiness()).ready"""


@dataclass(frozen=True, slots=True)
class Told:
    """What stands on the tablet: a record of 500 entries and one of 5,000."""

    port: int
    small: str
    large: str


def told_on(work: Path, playwright: Playwright) -> Told:
    """Enrol a tablet in `work`, write both records on it, and stop its server."""
    port, (small, large) = records_on(work, playwright, (500, 5000))
    return Told(port, small, large)


def records_on(
    work: Path, playwright: Playwright, counts: tuple[int, ...]
) -> tuple[int, list[str]]:
    """Enrol a tablet in `work`, write a record of each count of entries on it.

    Returns the server's port, the server stopped, and the records.
    """
    home = work / "home"
    home.mkdir()
    server = LiveServer(home).start()
    browser = Browser(playwright, work / "profile")
    try:
        _enrols(browser, server)
        return server.port, [_tells(browser, server, count) for count in counts]
    finally:
        browser.close()
        server.stop()


def _enrols(browser: Browser, server: LiveServer) -> None:
    """Enrol this browser by a one-time code, and wait until it can go without us."""
    # A server that has answered has made its database.
    page = browser.opens(f"{server.url}/tablet/enrol")
    db = connect(load(server.home).database)
    _, code = tablets.add(db, "Tablet 2")
    db.conn.close()
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Enrol").click()
    page.wait_for_url(f"{server.url}/tablet/")
    wait_until(page, _READY, 120)
    page.close()


def _tells(browser: Browser, server: LiveServer, count: int) -> str:
    """Write a record of so many entries on this tablet, send it, and return its id."""
    store = StorePage(browser.opens(f"{server.url}/static/js/types.js"))
    record = store.new_record()
    drafts = list(_drafts(count))
    for start in range(0, count, _AT_ONCE):
        store.page.evaluate(_TELL, [record, drafts[start : start + _AT_ONCE]])
    _sends(store.page)
    store.page.close()
    return record


def _sends(page: Page) -> None:
    page.evaluate(START)
    wait_until(page, ARRIVED, _SENT_WITHIN_S)


def _drafts(count: int) -> list[dict[str, Any]]:
    told: list[dict[str, Any]] = []
    drafts = read_stream(demo_folder() / CASE).drafts
    while len(told) < count:
        again = [d for d in drafts if not told or d.path != "wires"]
        told += [
            {"id": d.id, "path": d.path, "op": d.op, "value": d.value} for d in again
        ]
    return told[:count]
