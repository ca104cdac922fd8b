"""Set aside, not taken, refused: shown at the tablet with path, value and reason."""

import json

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.looking import audit, clipped, small_targets, wider_than_screen
from tests.support.syncing import ENROL, said
from tests.support.tablet import Tablet
from tests.support.transport import OverHttp
from webapp.db import connect
from webapp.people import tablets
from webapp.settings import DATABASE_FILE

SIZES = {"tablet": (1280, 800), "upright": (800, 1280), "phone": (390, 844)}
EVENT = "indication.event"
LONG_REASON = (
    "Its value is not of the kind this field takes, as the limits of the ward for "
    "temporary pacing wires stood on the day on which it was written, in the version "
    "which the hospital's own committee put in force at the beginning of that month. "
) * 3
OPEN = """async () => {
  const { openStore } = await import("/static/js/log/store.js");
  window.store = await openStore();
}"""
APPEND = """async ([record, path, value]) => {
  const author = { person: null, name: "K. Ouse-Example", role: "nurse" };
  return (await store.append(record, { path, op: "add", value, author })).id;
}"""
# An entry larger than the tablet's own limit lets any screen write.
TOO_LARGE = """async (record) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { openDataKey } = await import("/static/js/log/data-key.js");
  const { openKeys } = await import("/static/js/log/keys.js");
  const { metaRow, putMeta } = await import("/static/js/log/meta.js");
  const { encodeBody, encodeHeader } = await import("/static/js/log/entry.js");
  const { bodyOf } = await import("/static/js/log/writing.js");
  const { seal } = await import("/static/js/log/seal.js");
  const base = await openBase();
  const keys = openKeys(base, (await openDataKey(base, async () => null)).key);
  const log = await base.transact(["meta"], "readonly", (tx) => metaRow(tx, "log"));
  const author = { person: null, name: "K. Ouse-Example", role: "nurse" };
  const said = { path: "indication.why_now", value: "Long. ".repeat(12000), author };
  const body = bodyOf(said, [], Date.now(), { zone: "Europe/Oslo", skew_ms: 0 });
  const { id: key, key: sealing } = await keys.sealer(record, log.current, null);
  const id = store.newRecord();
  const place = { id, record, log: log.current, seq: log.tips[log.current] + 1 };
  const header = encodeHeader({ ...place, key });
  const sealed = await seal(sealing, header, encodeBody(body));
  await base.transact(["meta", "entries"], "readwrite", (tx) => {
    tx.objectStore("entries").add({ ...place, header, sealed });
    putMeta(tx, "log", { ...log, tips: { ...log.tips, [log.current]: place.seq } });
  });
  base.close();
}"""


class Told:
    """A tablet at which one case holds an entry of each kind that does not count."""

    def __init__(self, browser, live, db):
        self.live, self.db = live, db
        bare = browser.opens(f"{live.url}/static/js/types.js")
        bare.evaluate(OPEN)
        made, code = tablets.add(db, "tablet 7")
        assert bare.evaluate(ENROL, code) is None
        bare.close()
        self.tablet = made.id
        self.bedside = Bedside(browser, live.url)
        self.page = self.bedside.page
        self.bedside.starts_now()
        self.bedside.types("Family name", "ALDERMERE")
        self.bedside.says("Family name", "kept")
        self.page.evaluate(OPEN)
        self.sent()

    def sent(self):
        wait_until(self.page, "(await store.status()).unsent === 0", 60)

    def appends(self, path, value):
        return self.page.evaluate(APPEND, [self.bedside.record, path, value])

    def opens_store(self):
        self.page.locator("[data-act='storage']:visible").click()
        sheet = self.page.get_by_role("dialog", name="Where the entries are")
        expect(sheet).to_be_visible()
        return sheet


def sends_first(standing, db, record, entry):
    """Let another tablet bring other bytes under the same id."""
    _, code = tablets.add(db, "tablet 8")
    other = Tablet.enrols(OverHttp(standing.url), code)
    body = json.dumps(said(EVENT, {"what": "something else"}, "add")).encode()
    other.opens(record)
    other.own.append(other.writer.write_body(record, entry, body))
    assert other.syncs()["answers"][0]["answer"] == "kept"


@pytest.fixture(scope="module")
def told(shared_browser, standing):
    """One of each, told by the real server."""
    shared_browser.opens(f"{standing.url}/static/js/types.js").close()
    db = connect(standing.home / DATABASE_FILE)
    told = Told(shared_browser, standing, db)
    record = told.bedside.record
    told.appends("patient.no_such_field", {"as": "1,5", "unit": "mA"})
    told.page.evaluate(TOO_LARGE, record)
    told.page.route("**/sync", lambda route: route.abort())
    taken = told.appends(EVENT, {"what": "lead slipped"})
    sends_first(standing, db, record, taken)
    told.page.unroute("**/sync")
    told.page.evaluate("dispatchEvent(new Event('online'))")
    wait_until(told.page, "(await store.status()).conflicts.length === 1", 60)
    tablets.revoke(db, told.tablet)
    told.bedside.types("Given name", "Test-Ines")
    wait_until(told.page, "(await store.status()).setAside.length === 2", 60)
    yield told
    db.conn.close()


def items(sheet, title):
    """What stands under one heading, each entry's lines joined."""
    part = sheet.get_by_role("heading", name=title).locator("xpath=following::ul[1]")
    told = part.locator("li").all_inner_texts()
    return [" | ".join(filter(None, lines.splitlines())) for lines in told]


def test_what_is_set_aside_is_shown_with_its_value_as_typed_and_why(told):
    sheet = told.opens_store()
    found = sorted(items(sheet, "Set aside, kept here"), key=str.lower)
    assert [line.rsplit(" | ", 1)[0] for line in found] == [
        "Given name Test-Ines | The tablet was revoked before this arrived.",
        "patient.no_such_field 1,5 mA | This server has no such field.",
    ]
    sheet.get_by_role("button", name="Close").click()


def test_an_entry_whose_id_is_taken_is_shown_with_its_value_and_why(told):
    sheet = told.opens_store()
    [line] = items(sheet, "Place taken by another entry, kept here")
    assert "What happened or was found: lead slipped | " in line
    assert "Another entry already stands under this id or in this place." in line
    sheet.get_by_role("button", name="Close").click()


def test_an_entry_that_is_too_large_is_shown_with_its_value_and_why(told):
    sheet = told.opens_store()
    [line] = items(sheet, "Refused, kept here")
    assert line.startswith("Why now | Long. Long.")
    assert "It is larger than one entry may be." in line
    sheet.get_by_role("button", name="Close").click()


def test_no_serious_finding_of_axe_on_the_storage_view(told):
    sheet = told.opens_store()
    assert audit(told.bedside) == []
    sheet.get_by_role("button", name="Close").click()


def test_the_strip_says_first_what_weighs_most_and_the_view_says_all(told):
    sheet = told.opens_store()
    notes = sheet.locator(".remark")
    for said_ in (
        "This tablet was revoked: what it sends does not count",
        "1 refused: It is larger than one entry may be. Kept here",
        "1 not taken: Another entry already stands under this id or in this place.",
        "2 set aside: ",
    ):
        expect(notes.filter(has_text=said_)).to_have_count(1)
    sheet.get_by_role("button", name="Close").click()
    told.bedside.goes_home()
    expect(told.page.locator("#start-strip .store")).to_contain_text("revoked")
    expect(told.page.locator(".cases-row")).to_contain_text("2 not taken by the server")
    told.page.locator(".cases-row a").first.click()
    expect(told.page.locator("#case")).to_be_visible()


LENGTHEN = """async (because) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  const { metaRow, putMeta } = await import("/static/js/log/meta.js");
  await base.transact(["rulings", "meta"], "readwrite", async (tx) => {
    putMeta(tx, "sync", { ...(await metaRow(tx, "sync")), reach: "yes" });
    const rulings = tx.objectStore("rulings");
    for (const ruling of await result(rulings.getAll())) rulings.put({ ...ruling, because });
  });
  base.close();
  dispatchEvent(new Event("resize"));
}"""


@pytest.mark.parametrize("screen", SIZES)
def test_a_long_reason_is_read_whole_on_any_screen(told, screen):
    width, height = SIZES[screen]
    told.page.set_viewport_size({"width": width, "height": height})
    told.page.evaluate(LENGTHEN, LONG_REASON.strip())
    wait_until(told.page, "(await store.status()).refused[0].because.length > 600")
    for place in ("case", "start"):
        if place == "start":
            told.bedside.goes_home()
        told.page.evaluate("dispatchEvent(new Event('resize'))")
        assert wider_than_screen(told.page) == []
        assert clipped(told.page) == []
        sheet = told.opens_store()
        line = sheet.locator(".storage-item", has_text="Test-Ines")
        expect(line).to_contain_text(LONG_REASON.strip())
        line.scroll_into_view_if_needed()
        expect(line).to_be_in_viewport()
        assert wider_than_screen(told.page) == []
        assert clipped(told.page) == []
        assert small_targets(told.page, least_px=48) == []
        sheet.get_by_role("button", name="Close").click()
    told.page.locator(".cases-row a").first.click()
    expect(told.page.locator("#case")).to_be_visible()
    told.page.set_viewport_size({"width": 1280, "height": 800})


def test_a_case_of_which_nothing_counts_is_still_here(told):
    told.bedside.goes_home()
    told.bedside.starts_new()
    record = told.bedside.record
    told.bedside.types("Family name", "BRANDNESS")
    told.bedside.says("Family name", "kept")
    nothing = f"(await store.fold({record!r})).order.length === 0"
    wait_until(told.page, nothing, 60)
    told.bedside.reloads()
    told.page.evaluate(OPEN)
    expect(told.page.locator("#case")).to_be_visible()
    told.bedside.goes_home()
    row = told.page.locator(f'[data-record="{record}"]')
    expect(row).to_contain_text("nothing of it counts at the server")
    row.get_by_role("link").click()
    expect(told.page.locator("#case")).to_be_visible()
    sheet = told.opens_store()
    assert any(
        line.startswith("Family name BRANDNESS | ")
        for line in items(sheet, "Set aside, kept here")
    )
    sheet.get_by_role("button", name="Close").click()
