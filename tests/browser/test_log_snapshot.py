"""A record opened from its snapshot and what came after is the record that was written."""

from __future__ import annotations

import pytest

from tests.browser.test_log_store import APPEND_MANY, numbers
from tests.support.browser import wait_until
from tests.support.store_page import StorePage
from tests.support.syncing import given, said, share

READINGS = "advance.depth_readings"
NAME = "patient.family_name"
MANY = 130

# The snapshots that lie in the database, by a connection of its own.
LOOK = """async (name) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase({ name });
  window.snapshots = () => base.transact(["meta"], "readonly", async (tx) =>
    (await result(tx.objectStore("meta").getAll())).filter(({ name }) => name[0] === "snapshot"));
  window.change = (row) => base.transact(["meta"], "readwrite", (tx) =>
    void tx.objectStore("meta").put(row));
  window.lose = (store, range) => base.transact([store], "readwrite", (tx) =>
    void tx.objectStore(store).delete(range));
}"""
# How many seals were opened since: one for a snapshot, one for each entry.
COUNT_OPENED = """() => {
  const decrypt = SubtleCrypto.prototype.decrypt;
  window.opened = 0;
  SubtleCrypto.prototype.decrypt = function (...given) {
    window.opened += 1;
    return decrypt.apply(this, given);
  };
}"""
# What the server would tell, taken in as after an exchange that sent nothing.
TAKE_IN = """async ([shares, answers]) => {
  const reply = { answers, logs: [], pull: shares, people: [], revoked: false,
    went_back: false, head: null, server_time: new Date().toISOString(),
    server_key: null, lost: 0 };
  const rows = await Promise.all(answers.map(({ record, log, seq, id }) => ({ record, log, seq, id })));
  await window.store.wire.takeIn({ rows, tell: null }, reply,
    { sent_ms: Date.now(), got_ms: Date.now() });
}"""


@pytest.fixture
def name(request):
    """A database of its own for each test."""
    return f"snapshot {request.node.name}"


def pictured(page, name: str) -> tuple[StorePage, str]:
    """Write a record long enough, and wait until its snapshot lies there."""
    tablet = StorePage(page, name)
    record = tablet.new_record()
    page.evaluate(APPEND_MANY, [record, READINGS, 0, MANY])
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.fold(record)
    page.evaluate(LOOK, name)
    wait_until(page, "(await snapshots()).length === 1")
    return tablet, record


def test_one_seal_is_opened_and_all_of_the_record_is_there(page, name):
    tablet, record = pictured(page, name)
    written = tablet.fold(record)
    again = StorePage(page, name)
    page.evaluate(COUNT_OPENED)
    assert again.fold(record) == written
    # The record's key, and its snapshot.
    assert page.evaluate("opened") == 2


def test_what_was_written_after_it_is_there_too(page, name):
    tablet, record = pictured(page, name)
    tablet.appends(record, NAME, "BRANDNESS")
    page.evaluate(APPEND_MANY, [record, READINGS, MANY, 5])
    written = tablet.fold(record)
    again = StorePage(page, name)
    assert again.shows(record, NAME) == ["BRANDNESS"]
    assert numbers(again, record) == [str(n) for n in range(MANY + 5)]
    assert again.fold(record) == written


def test_a_row_struck_after_it_is_struck_and_may_come_back(page, name):
    tablet, record = pictured(page, name)
    row = tablet.fold(record)["rows"][READINGS][3]["id"]
    strike = {"strikes": row, "reason": "misread"}
    struck = StorePage(page, name).appends(record, READINGS, strike, op="strike")
    [told] = [
        r for r in StorePage(page, name).fold(record)["rows"][READINGS] if r["struck"]
    ]
    assert (told["id"], told["struck"]) == (
        row,
        {"by": struck["id"], "reason": "misread"},
    )
    back = {"strikes": struck["id"], "reason": None}
    StorePage(page, name).appends(record, READINGS, back, op="strike")
    rows = StorePage(page, name).fold(record)["rows"][READINGS]
    assert [r for r in rows if r["struck"]] == []


@pytest.mark.parametrize(
    "damage",
    [
        "row.sealed[40] ^= 1",
        "row.sealed = row.sealed.slice(0, 20)",
        "row.about.upto.own[Object.keys(row.about.upto.own)[0]] += 1",
        "row.about.version += 1",
        "row.about.fold -= 1",
        "row.about.catalogue = 7",
        "row.key = 'no such key'",
    ],
)
def test_one_that_is_damaged_or_of_another_version_is_dropped_and_hides_nothing(
    page, name, damage
):
    tablet, record = pictured(page, name)
    written = tablet.fold(record)
    page.evaluate(
        f"async () => {{ const [row] = await snapshots(); {damage}; await change(row); }}"
    )
    again = StorePage(page, name)
    assert again.fold(record) == written
    assert again.status()["damaged"] == 0
    # Another one is made in its place.
    wait_until(page, "(await snapshots())[0]?.about.version === 1")
    assert StorePage(page, name).fold(record) == written


def test_the_words_in_it_are_sealed(page, name):
    pictured(page, name)
    text = page.evaluate(
        """async () => JSON.stringify(await snapshots(), (_, value) => value instanceof Uint8Array
          ? Array.from(value, (byte) => String.fromCharCode(byte)).join("") : value)"""
    )
    assert "ALDERMERE" not in text
    assert READINGS not in text
    assert "FJORDHOLM" not in text


def test_an_entry_that_is_gone_from_the_tablet_is_gone_from_what_is_shown(page, name):
    tablet, record = pictured(page, name)
    place = tablet.fold(record)["entries"]
    [last] = [m for m in place.values() if m["path"] == NAME]
    page.evaluate(
        "([log, seq]) => lose('entries', [log, seq])", [last["log"], last["seq"]]
    )
    page.evaluate(
        "(record) => lose('packs', IDBKeyRange.bound([record], [record, []]))", record
    )
    again = StorePage(page, name)
    assert again.shows(record, NAME) == []
    assert len(numbers(again, record)) == MANY


def test_an_entry_that_the_server_sets_aside_later_does_not_count(page, name):
    tablet, record = pictured(page, name)
    [(id_, meta)] = [
        (i, m) for i, m in tablet.fold(record)["entries"].items() if m["path"] == NAME
    ]
    ruling = {
        "id": id_,
        "record": record,
        "log": meta["log"],
        "seq": meta["seq"],
        "answer": "kept",
    }
    again = StorePage(page, name)
    aside = {**ruling, "counts": "set_aside", "because": "test", "position": 1}
    page.evaluate(TAKE_IN, [[], [aside]])
    assert again.shows(record, NAME) == []
    assert StorePage(page, name).shows(record, NAME) == []


def test_an_entry_that_counts_after_all_is_shown_again(page, name):
    tablet, record = pictured(page, name)
    [(id_, meta)] = [
        (i, m) for i, m in tablet.fold(record)["entries"].items() if m["path"] == NAME
    ]
    ruling = {
        "id": id_,
        "record": record,
        "log": meta["log"],
        "seq": meta["seq"],
        "answer": "kept",
    }
    aside = {**ruling, "counts": "set_aside", "because": "test", "position": 1}
    page.evaluate(TAKE_IN, [[], [aside]])
    assert tablet.shows(record, NAME) == []
    wait_until(
        page,
        f"(await snapshots()).length === 1 && (await store.fold({record!r})).order.length === {MANY}",
    )
    again = StorePage(page, name)
    assert again.shows(record, NAME) == []
    counted = {**ruling, "counts": "counted", "because": None, "position": 1}
    page.evaluate("(id) => lose('rulings', id)", id_)
    page.evaluate(TAKE_IN, [[], [counted]])
    assert again.shows(record, NAME) == ["ALDERMERE"]
    assert StorePage(page, name).shows(record, NAME) == ["ALDERMERE"]


def test_what_the_desk_erased_after_it_is_gone_from_view_and_from_the_snapshot(
    page, name
):
    tablet, record = pictured(page, name)
    [(id_, _)] = [
        (i, m) for i, m in tablet.fold(record)["entries"].items() if m["path"] == NAME
    ]
    [before] = page.evaluate("snapshots()")
    told = {
        "entry": id_,
        "reason": "another patient",
        "path": NAME,
        "op": "set",
        "seen": "",
        "strikes": "",
    }
    erased = given(record, 1, said("erasures", told, "add"))
    again = StorePage(page, name)
    page.evaluate(TAKE_IN, [[share(record, erased)], []])
    assert again.shows(record, NAME) == []
    wait_until(page, "(await snapshots()).length === 1")
    [after] = page.evaluate("snapshots()")
    assert after["sealed"] != before["sealed"]
    third = StorePage(page, name)
    assert third.shows(record, NAME) == []
    assert third.fold(record) == again.fold(record)


def test_what_others_wrote_is_in_it_and_after_it(page, name):
    tablet, record = pictured(page, name)
    rows = [
        given(record, n, said(READINGS, {"n": str(1000 + n)}, "add"), seq=n)
        for n in range(1, 121)
    ]
    page.evaluate(TAKE_IN, [[share(record, *rows[:110])], []])
    whole = tablet.fold(record)
    wait_until(page, "(await snapshots())[0]?.about.counts.at(-1) > 0")
    again = StorePage(page, name)
    assert again.fold(record) == whole
    page.evaluate(TAKE_IN, [[share(record, *rows[110:])], []])
    assert len(numbers(again, record)) == MANY + 120
    assert len(numbers(StorePage(page, name), record)) == MANY + 120


def test_two_pages_each_read_what_the_other_writes_after_it(page, name, shared_browser):
    _, record = pictured(page, name)
    first = StorePage(page, name)
    second = StorePage(shared_browser.opens(page.url), name)
    first.fold(record), second.fold(record)
    for n in range(6):
        first.appends(record, NAME, f"first {n}")
        second.appends(record, NAME, f"second {n}")
    for tablet in (first, second):
        wait_until(
            tablet.page,
            f"(await store.fold({record!r})).values[{NAME!r}][0].value === 'second 5'",
        )
        assert tablet.shows(record, NAME) == ["second 5"]
    assert (
        first.fold(record) == second.fold(record) == StorePage(page, name).fold(record)
    )
    second.page.close()


def test_a_kill_while_it_is_written_loses_nothing(browser, standing):
    address = f"{standing.url}/static/js/types.js"
    tablet = StorePage(browser.opens(address), "killed")
    page = tablet.page
    record = tablet.new_record()
    page.evaluate(APPEND_MANY, [record, READINGS, 0, MANY])
    page.evaluate(
        """() => { const put = IDBObjectStore.prototype.put;
          window.isWriting = false;
          IDBObjectStore.prototype.put = function (row) {
            if (row.name?.[0] === "snapshot") window.isWriting = true;
            return put.call(this, row);
          }; }"""
    )
    written = tablet.fold(record)
    wait_until(page, "isWriting")
    browser.kill()
    again = StorePage(browser.opens(address), "killed")
    assert again.fold(record) == written
    again.appends(record, READINGS, {"n": str(MANY)}, op="add")
    assert numbers(StorePage(again.page, "killed"), record) == [
        str(n) for n in range(MANY + 1)
    ]
