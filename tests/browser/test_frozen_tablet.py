"""A tablet's database of an earlier release is carried over whole: fixtures/frozen/.

What it holds was written down beside it on the day it was frozen, by the code of that
day. How it was made: fixtures/sources.md, "Frozen files".
"""

import json
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.store_page import StorePage
from tests.support.syncing import ENROL, START, entries, ruling_of
from tests.support.tablet_database import dumped, loads
from webapp.people import tablets

FROZEN = Path(__file__).resolve().parents[2] / "fixtures/frozen/tablet-db-1.json"
HELD = json.loads(FROZEN.read_text("utf-8"))
TOLD = HELD["told"]
ROWS = {store["name"]: store["rows"] for store in HELD["database"]["stores"]}
SECOND = TOLD["records"]["second"]


@pytest.fixture
def carried(shared_browser, standing, request):
    """The frozen database, under a name of its own, in a page beside a server."""
    name = f"frozen {request.node.name}"
    page = shared_browser.opens(f"{standing.url}/static/js/types.js")
    loads(page, {**HELD["database"], "name": name})
    yield StorePage(page, name)
    page.close()


def test_the_frozen_database_holds_what_a_tablet_keeps():
    assert HELD["database"]["version"] == 1
    assert len(ROWS["entries"]) > 100
    filled = {name for name, rows in ROWS.items() if rows}
    assert filled >= {"meta", "entries", "pulled", "packs", "keys", "wraps", "drafts"}
    assert filled >= {"photos", "outbox", "rulings"}


def test_every_entry_of_it_is_read_as_on_the_day_it_was_frozen(carried):
    tablet = carried
    read = {record: tablet.fold(record) for record in TOLD["folds"]}
    for record, fold in TOLD["folds"].items():
        assert read[record]["values"] == fold["values"]
        assert read[record]["rows"] == fold["rows"]
        assert read[record]["order"] == fold["order"]
    status = tablet.status()
    assert status["total"] == len(TOLD["own"])
    assert status["damaged"] == 0
    assert [told["id"] for told in status["setAside"]] == TOLD["set_aside"]
    assert tablet.rows("outbox") == []
    [photo] = ROWS["photos"]
    size = tablet.page.evaluate(
        "async (sealed) => (await store.photo({ sealed })).size", photo["sealed"]
    )
    assert size > 0


def test_its_screen_shows_every_case_and_the_text_that_was_not_finished(
    shared_browser, standing
):
    page = shared_browser.opens(f"{standing.url}/static/js/types.js")
    loads(page, HELD["database"])
    page.close()
    case = Bedside(shared_browser, standing.url)
    rows = case.page.locator(".cases-row")
    expect(rows).to_have_count(2)
    expect(case.page.locator(f'[data-record="{SECOND}"]')).to_contain_text("BRANDNESS")
    case.page.locator(f'[data-record="{SECOND}"] a').click()
    box = case.field("Given name").get_by_role("textbox", name="Given name")
    expect(box).to_have_value("Test-Wilh")
    case.page.close()


def test_everything_in_it_reaches_a_server_once(carried, standing_db):
    tablet, db = carried, standing_db
    _, code = tablets.add(db, "tablet 1")
    assert tablet.page.evaluate(ENROL, code) is None
    tablet.page.evaluate(START)
    wait_until(tablet.page, "(await store.status()).unsent === 0", 60)
    found = [row["id"] for row in entries(db)]
    assert sorted(found) == sorted(TOLD["own"])
    ruled = {entry: ruling_of(db, entry) for entry in found}
    aside = [entry for entry in found if ruled[entry] == "set_aside"]
    assert aside == TOLD["set_aside"]
    wait_until(tablet.page, "(await store.status()).lost > 0")
    # What others wrote is not on this server: named there, readable here.
    assert tablet.status()["lost"] == len(TOLD["pulled"])
    for record, fold in TOLD["folds"].items():
        assert tablet.fold(record)["values"] == fold["values"]


def test_what_is_dumped_is_what_was_loaded(shared_browser, standing):
    page = shared_browser.opens(f"{standing.url}/static/js/types.js")
    told = {**HELD["database"], "name": "dumped"}
    loads(page, told)
    assert dumped(page, "dumped") == told
    page.close()
