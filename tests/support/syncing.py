"""A tablet in a browser whose log syncs with a real server, driven from a test."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from playwright.sync_api import Request, Route
from sqlite_utils import Database

from tests.support.browser import wait_until
from tests.support.store_page import StorePage
from webapp.people import tablets
from webapp.record.entry import Header, uuid7

NAME = "patient.family_name"
WEIGHT = "patient.weight"
EVENT = "indication.event"
ARRIVED = "(await store.status()).unsent === 0 && (await store.status()).total > 0"

ENROL = """async (code) => {
  const { enrol } = await import("/static/js/sync/token.js");
  return enrol(window.store, code).then(() => null, ({ code }) => code);
}"""
START = """async () => {
  const { startSync } = await import("/static/js/sync/loop.js");
  window.sync = startSync(window.store);
}"""
# No round of this tablet begins from now on; one that runs is waited for.
HOLD_SENDING = """() => new Promise((held) => {
  void navigator.locks.request("wiremark-sync", () => new Promise((letGo) => {
    window.letsSend = letGo;
    held();
  }));
})"""
# What would come to pass only after a second or more never does.
NO_LONG_WAITS = """() => {
  const begin = window.setTimeout;
  window.setTimeout = (work, ms, ...rest) => (ms < 1000 ? begin(work, ms, ...rest) : 0);
}"""
APPEND_MANY = """async ([record, count]) => {
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  const kept = [];
  for (let n = 0; n < count; n++) kept.push(window.store.append(record,
    { path: "indication.event", op: "add", value: { what: `event ${n}` }, author }));
  await Promise.all(kept);
}"""
# The database as it was before its last entries: a disk image that was put back.
LOSE_LAST = """async (from) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { metaRow, putMeta } = await import("/static/js/log/meta.js");
  const base = await openBase();
  await base.transact(["meta", "entries"], "readwrite", async (tx) => {
    const log = await metaRow(tx, "log");
    tx.objectStore("entries").delete(
      IDBKeyRange.bound([log.current, from], [log.current, Infinity]));
    putMeta(tx, "log", { ...log, tips: { [log.current]: from - 1 } });
  });
  base.close();
}"""

FORGET_HELD = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { readMeta, writeMeta } = await import("/static/js/log/meta.js");
  const base = await openBase();
  const sync = await readMeta(base, "sync");
  const held = Object.fromEntries(Object.keys(sync.held).map((log) => [log, 1]));
  await writeMeta(base, "sync", { ...sync, held, head: null });
  base.close();
}"""


class BedsideTablet(StorePage):
    """An enrolled tablet in a browser, with sync running unless said otherwise."""

    def __init__(self, browser, live, db=None, starts=True, name="") -> None:
        super().__init__(browser.opens(f"{live.url}/static/js/types.js"), name)
        if db is not None:
            _, code = tablets.add(db, f"tablet 1 {name}".strip())
            assert self.page.evaluate(ENROL, code) is None
        if starts:
            self.starts()

    def starts(self) -> None:
        """Let sync run in the background."""
        self.page.evaluate(START)

    def syncs_now(self) -> None:
        """Wait for one whole round."""
        self.page.evaluate("sync.now()")

    def wait_until_sent(self, within_s: float = 60) -> None:
        """Wait until the server has everything."""
        wait_until(self.page, ARRIVED, within_s)

    def heads(self) -> list[dict[str, Any]]:
        """Listen to what is sent from now on; return the heads of the requests."""
        heard: list[dict[str, Any]] = []

        def hear(request: Request) -> None:
            if request.url.endswith("/sync"):
                heard.append(head_of(request.post_data_buffer or b""))

        self.page.on("request", hear)
        return heard

    def hears(self, change: Callable[[dict[str, Any]], None]) -> None:
        """Let the real server answer, and change each of its replies on the way."""

        def altered(route: Route) -> None:
            answer = route.fetch()
            told = answer.json()
            change(told)
            route.fulfill(response=answer, json=told)

        self.page.route("**/sync", altered)

    def hears_the_server(self) -> None:
        """Let nothing stand between this tablet and the server any more."""
        self.page.unroute("**/sync")


def head_of(body: bytes) -> dict[str, Any]:
    """Return the head of a request's bytes."""
    length = int.from_bytes(body[:4], "big")
    return dict(json.loads(body[4 : 4 + length]))


def given(
    record: str,
    position: int,
    body: dict[str, Any] | None,
    log: str = "desk",
    seq: int = 1,
    id_: str | None = None,
    **rest: Any,
) -> dict[str, Any]:
    """Return an entry as a pull share gives it; `body` None: it has no text there."""
    header = Header(1, id_ or uuid7(), record, log, seq, uuid7())
    text = None if body is None else json.dumps(body)
    told = {"header": header.encode().decode(), "body": text, "position": position}
    return {**told, "counts": "counted", "because": None, **rest}


def said(path: str, value: Any, op: str = "set", **rest: Any) -> dict[str, Any]:
    """Return a body as another writer makes it."""
    who = {"person": None, "name": "O. Fell-Example", "role": "nurse"}
    at = {
        "utc": "2031-11-24T10:41:00.000Z",
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "skew_ms": 0,
    }
    people = {"author": who, "entered_by": who, "called_by": None}
    how = {"source": "seen", "how": "typed", "salt": "0" * 32}
    return {"path": path, "op": op, "value": value, "seen": [], "at": at} | {
        **people,
        **how,
        **rest,
    }


def share(record: str, *entries: dict[str, Any]) -> dict[str, Any]:
    """Return a record's part of a reply."""
    upto = entries[-1]["position"]
    return {"record": record, "entries": list(entries), "upto": upto, "more": False}


def entries(db: Database, record: str = "%") -> list[dict[str, Any]]:
    """Return what the server holds, in its order."""
    kept = "SELECT id, log, seq, record FROM entry WHERE record LIKE ?"
    return list(db.query(f"{kept} ORDER BY position", [record]))


def ruling_of(db: Database, entry: str) -> str:
    """Return the last ruling on an entry."""
    found = db.query(
        "SELECT ruling FROM ruling JOIN entry USING (position) WHERE entry.id = ?",
        [entry],
    )
    return str([row["ruling"] for row in found][-1])
