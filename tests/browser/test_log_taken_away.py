"""What the server holds is taken off a tablet in time; what is only here never is."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import count

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.syncing import NAME, WEIGHT, BedsideTablet, entries
from webapp.people import tablets
from webapp.settings import Settings

NUMBER = count()
SITE = Settings.__dataclass_fields__
HOURS = SITE["keep_readable_h"].default
DAYS = SITE["keep_bytes_d"].default
STORES = ("entries", "pulled", "packs", "keys", "drafts", "photos")
WEIGHED = {"as": "64", "n": "64", "unit": "kg"}
DOT = """async (record) => {
  const canvas = new OffscreenCanvas(4, 4);
  canvas.getContext("2d").fillRect(0, 0, 4, 4);
  return window.store.putPhoto(record, await canvas.convertToBlob({ type: "image/png" }));
}"""
AN_HOUR_AHEAD = "() => { const real = Date.now; Date.now = () => real() + 4e8 * 3600; }"
NEXT_ASKED = """async () => {
  const [passed, late] = [new Set(), new Set()];
  const batch = await store.wire.gather({ catalogue: 0, limit: 1, passed, late });
  return batch.head.open.map(({ record }) => record);
}"""
LATEST = "() => window.store.latest()"
SNAPSHOTS = """async (name) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase(name ? { name } : {});
  const at = ["snapshot"];
  const keys = await base.transact(["meta"], "readonly", (tx) =>
    result(tx.objectStore("meta").getAllKeys(IDBKeyRange.bound(at, [...at, []]))));
  base.close();
  return keys.map(([, record]) => record);
}"""
MADE_SNAPSHOT = """async ([name, record]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const base = await openBase(name ? { name } : {});
  await base.transact(["meta"], "readwrite", (tx) =>
    void tx.objectStore("meta").put({ name: ["snapshot", record], about: {} }));
  base.close();
}"""


class Leaving:
    """A tablet whose server tells a later time: `later` is added to it."""

    def __init__(self, browser, server, db, name):
        self.browser, self.server, self.db, self.name = browser, server, db, name
        self.later = timedelta()
        self.changes = {}
        self._opens(db)
        self.record = self.it.new_record()
        self.it.appends(self.record, NAME, "ALDERMERE")
        self.syncs()

    def _opens(self, db=None):
        self.it = BedsideTablet(self.browser, self.server, db, False, self.name)
        self.it.hears(self._change)
        self.it.starts()

    def _change(self, told):
        time = datetime.fromisoformat(told["server_time"]) + self.later
        told["server_time"] = time.isoformat().replace("+00:00", "Z")
        told.update(self.changes)

    def syncs(self, **later):
        """Sync once whole, the server's clock further on by so much."""
        self.later += timedelta(**later)
        # A round that runs already may have begun before what is to be sent or told.
        self.it.syncs_now()
        self.it.syncs_now()

    def opens_again(self):
        """Close the page and open it again."""
        self.it.page.close()
        self._opens()
        return self

    def call(self, script, *given):
        return self.it.page.evaluate(script, *given)

    def is_readable(self):
        return self.record in self.call(
            "async () => (await store.records()).map(({ record }) => record)"
        )

    def away(self):
        found = [one["isOnServer"] for one in self.call("() => store.takenAway()")]
        return found.count(True), found.count(False)

    def lies_in(self):
        """Return the stores in which something of the record lies."""
        found = {
            store
            for store in STORES
            for row in self.it.rows(store)
            if row["record"] == self.record
        }
        if self.record in self.call(SNAPSHOTS, self.name):
            found.add("snapshot")
        return found

    def asks_for(self):
        """Return the records that the next round would ask the server for."""
        return set(self.call(NEXT_ASKED))


@pytest.fixture
def left(shared_browser, standing, standing_db):
    made = Leaving(shared_browser, standing, standing_db, f"leaving {next(NUMBER)}")
    yield made
    made.it.page.close()


def test_a_case_is_read_for_the_sites_hours_and_no_longer(left):
    left.syncs(hours=HOURS - 1)
    assert left.is_readable()
    left.call(MADE_SNAPSHOT, [left.name, left.record])
    left.syncs(hours=2)
    assert not left.is_readable()
    assert left.away() == (1, 0)
    assert left.it.shows(left.record, NAME) == []
    keys = left.it.rows("keys")
    assert [k["wrap_tablet"] for k in keys if k["record"] == left.record] == [None]
    assert left.lies_in() == {"entries", "keys"}
    assert left.it.status()["damaged"] == 0
    assert not left.opens_again().is_readable()
    assert left.call(LATEST) is None


# Noted as loose though nothing of it waits, as what went wrong before leaves it.
NOTED = """async ([name, sealed]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase(name ? { name } : {});
  await base.transact(["photos"], "readwrite", async (tx) => {
    const { waiting, ...row } = await result(tx.objectStore("photos").get(sealed));
    tx.objectStore("photos").put(row);
  });
  base.close();
}"""


def test_what_is_noted_of_its_photos_goes_with_it(left):
    photo = left.call(DOT, left.record)
    kept = left.call(DOT, left.it.new_record())
    left.call(NOTED, [left.name, photo["sealed"]])
    left.syncs(hours=HOURS + 1)
    left.syncs(days=DAYS)
    assert left.lies_in() == set()
    [noted] = [row for row in left.it.rows("meta") if row["name"] == "photos"]
    assert list(noted["loose"]) == [kept["sealed"]]


def test_its_sealed_bytes_go_after_the_sites_days_and_it_is_not_given_again(left):
    assert left.record in left.asks_for()
    left.syncs(hours=HOURS + 1)
    assert left.record not in left.asks_for()
    left.syncs(days=DAYS)
    assert left.lies_in() == set()
    assert left.away() == (1, 0)
    left.opens_again().syncs()
    assert left.record not in left.asks_for()
    assert left.lies_in() == set()
    assert len(entries(left.db, left.record)) == 1
    left.syncs(days=DAYS)
    assert left.away() == (0, 0)


def test_a_case_asked_for_again_is_given_from_its_start(left):
    left.syncs(hours=HOURS + 1)
    left.call("(record) => store.openRecord(record)", left.record)
    left.syncs()
    assert left.is_readable()
    assert left.it.shows(left.record, NAME) == ["ALDERMERE"]
    assert left.away() == (0, 0)
    assert left.opens_again().it.shows(left.record, NAME) == ["ALDERMERE"]
    left.it.appends(left.record, WEIGHT, WEIGHED)
    left.syncs()
    assert left.it.status()["unsent"] == 0
    assert len(entries(left.db, left.record)) == 2


@pytest.mark.parametrize(
    "only_here",
    [
        "(record) => store.draft(record, 'patient.weight', '6')",
        DOT,
        """async (record) => {
          const author = { person: null, name: "", role: "" };
          const told = { path: "patient.weight", value: "x", author };
          const { id } = await store.append(record, told);
          await store.wire.refuse(id, "storage.server_falls");
        }""",
    ],
    ids=["unfinished text", "photo", "refused entry"],
)
def test_what_is_only_here_stays_readable_however_late_it_is(left, only_here):
    left.changes = {"answers": []}
    left.call(only_here, left.record)
    left.it.page.route("**/sync/photo*", lambda route: route.abort())
    left.syncs(days=DAYS + 1)
    assert left.is_readable()
    assert left.it.shows(left.record, NAME) == ["ALDERMERE"]
    assert left.away() == (0, 0)


def test_a_case_open_on_a_screen_stays_and_its_time_begins_when_it_is_left(left):
    left.call("(record) => store.holdOpen(record)", left.record)
    left.syncs(days=DAYS + 1)
    assert left.is_readable()
    left.call("() => store.holdOpen('')")
    left.syncs(hours=HOURS - 1)
    assert left.is_readable()
    left.syncs(hours=2)
    assert not left.is_readable()


def test_a_running_case_stays_though_the_hours_are_fewer(left):
    left.changes = {
        "settings": {"keep_readable_h": 1, "keep_bytes_d": 1, "running_case_h": 3}
    }
    left.syncs(hours=2)
    assert left.is_readable()
    left.it.appends(left.record, WEIGHT, WEIGHED)
    left.syncs(hours=2)
    assert left.is_readable()
    left.syncs(hours=4)
    assert not left.is_readable()


def test_a_tablets_clock_that_jumps_takes_nothing_away(left):
    left.call(AN_HOUR_AHEAD)
    left.syncs()
    assert left.is_readable()
    left.it.page.route("**/sync", lambda route: route.abort())
    left.syncs(days=DAYS + 1)
    assert left.is_readable()


def test_nothing_goes_while_the_server_is_behind_what_the_tablet_knows(left):
    left.changes = {"went_back": True, "head_known": False}
    left.syncs(days=DAYS + 1)
    assert left.lies_in() >= {"entries", "keys"}
    assert left.is_readable()


def test_a_revoked_tablet_loses_what_is_sent_and_seals_what_is_not(
    shared_browser, standing, standing_db
):
    left = Leaving(shared_browser, standing, standing_db, f"revoked {next(NUMBER)}")
    sent, left.record = left.record, left.it.new_record()
    kept = left.it.appends(left.record, NAME, "SEDGEFORD")["id"]
    left.call("(id) => store.wire.refuse(id, 'storage.server_falls')", kept)
    left.it.page.unroute("**/sync")
    refused = {"id": kept, "answer": "refused", "counts": None, "because": "no"}

    def refuses(told):
        told["answers"] = [{**refused, "position": None}]
        told["logs"] = [{**one, "held": 1} for one in told["logs"]]

    left.it.hears(refuses)
    listed = [one.tablet for one in tablets.tablets(standing_db)]
    [here] = [one.id for one in listed if one.name.endswith(left.name)]
    tablets.revoke(standing_db, here)
    left.it.syncs_now()
    assert not left.is_readable()
    assert left.away() == (1, 1)
    assert left.lies_in() == {"entries", "keys"}
    left.record = sent
    assert left.lies_in() == set()
    left.it.page.close()


def test_who_stands_in_a_case_does_not_keep_it_here(
    shared_browser, standing, standing_db
):
    """As each case begun by a key has it; it is never sent, and nothing is lost by it."""
    left = Leaving(shared_browser, standing, standing_db, f"begun {next(NUMBER)}")
    left.call("(record) => store.draft(record, 'who', '{}')", left.record)
    left.syncs(hours=HOURS + 1)
    assert not left.is_readable()
    left.syncs(days=DAYS)
    assert left.lies_in() == set()
    left.it.page.close()


def test_start_lists_what_cannot_be_read_here_and_asks_for_it(browser, live, db):
    left = Leaving(browser, live, db, "")
    left.syncs(hours=HOURS + 1)
    left.it.page.close()
    start = Bedside(browser, live.url)
    row = start.page.locator(f".cases-away-row[data-record='{left.record}']")
    expect(row).to_contain_text("Its time on this tablet was over.")
    expect(row).to_contain_text("The server has all of it.")
    start.page.goto(f"{live.url}/tablet/#/case/{left.record}/patient")
    expect(start.page.locator("#start-alert")).to_contain_text("no case under that")
    row.get_by_role("button", name="Ask the server for it: the case begun").click()
    case = start.page.locator(f".cases-row[data-record='{left.record}']")
    expect(case).to_contain_text("ALDERMERE")
    expect(row).to_have_count(0)
