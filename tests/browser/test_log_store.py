"""What a screen gets from the tablet's log: entries, fold, drafts, photos, status."""

from __future__ import annotations

import hashlib
import time

import pytest

from tests.support.browser import wait_until
from tests.support.store_page import MIRA, StorePage
from webapp.record.entry import decode_header

NAME = "patient.family_name"
READINGS = "advance.depth_readings"
SECRET = "Test-Ines ALDERMERE"

APPEND_MANY = """async ([record, path, from, count]) => {
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  const row = (n) => ({ path, op: "add", value: { n: `${n}` }, author });
  const kept = [];
  for (let n = from; n < from + count; n++) kept.push(store.append(record, row(n)));
  return (await Promise.all(kept)).map(({ seq }) => seq);
}"""
COUNT_PACKS = """async (name) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase({ name });
  window.packs = () => base.transact(["packs"], "readonly", (tx) =>
    result(tx.objectStore("packs").count()));
}"""
# Everything in the database as one text, bytes as Latin letters.
DUMP = """async (name) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase({ name });
  const stores = ["meta", "entries", "pulled", "packs", "keys", "wraps", "drafts",
    "photos", "outbox", "rulings"];
  const rows = await base.transact(stores, "readonly", (tx) =>
    Promise.all(stores.map((store) => result(tx.objectStore(store).getAll()))));
  base.close();
  return JSON.stringify(rows, (_, value) => value instanceof Uint8Array
    ? Array.from(value, (byte) => String.fromCharCode(byte)).join("") : value);
}"""
DAMAGE = """async (name) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase({ name });
  await base.transact(["entries"], "readwrite", async (tx) => {
    const store = tx.objectStore("entries");
    const [, second] = await result(store.getAll());
    second.sealed[20] ^= 1;
    store.put(second);
  });
  base.close();
}"""
PHOTO = """async ([record, bytes]) => {
  const blob = new Blob([Uint8Array.from(bytes)], { type: "image/jpeg" });
  const value = await window.store.putPhoto(record, blob, "RV, 34 cm");
  const back = await window.store.photo(value);
  const read = new Uint8Array(await back.arrayBuffer());
  return { value, type: back.type, bytes: [...read] };
}"""
TIMED_OPENING = """async ([name, record]) => {
  const { openStore } = await import("/static/js/log/store.js");
  const begun = performance.now();
  const store = await openStore({ name });
  const { order } = await store.fold(record);
  const took = performance.now() - begun;
  store.close();
  return { took, entries: order.length };
}"""


def numbers(tablet: StorePage, record: str) -> list[str]:
    rows = tablet.fold(record)["rows"].get(READINGS, [])
    return sorted((row["value"]["n"] for row in rows), key=int)


def test_an_answer_replaces_the_one_before_it(page):
    tablet = StorePage(page, "replaces")
    record = tablet.new_record()
    for name in ("ALDERMERE", "ALDERMEER", "ALDERMERE"):
        tablet.appends(record, NAME, name)
    assert tablet.shows(record, NAME) == ["ALDERMERE"]


def test_quick_taps_on_one_question_never_become_two_answers(page):
    tablet = StorePage(page, "quick")
    record = tablet.new_record()
    page.evaluate(
        """([record, path, author]) => Promise.all(["yes", "no", "yes", "no"].map(
          (value) => window.store.append(record, { path, value, author })))""",
        [record, NAME, MIRA],
    )
    assert tablet.shows(record, NAME) == ["no"]


def test_two_pages_of_one_tablet_share_one_log_without_gap_or_double(
    page, shared_browser
):
    first = StorePage(page, "shared")
    second = StorePage(shared_browser.opens(page.url), "shared")
    record = first.new_record()
    begin = f"(given) => {{ window.kept = ({APPEND_MANY})(given); }}"
    first.page.evaluate(begin, [record, READINGS, 0, 40])
    second.page.evaluate(begin, [record, READINGS, 40, 40])
    seqs = first.page.evaluate("window.kept") + second.page.evaluate("window.kept")
    assert sorted(seqs) == list(range(1, 81))
    for tablet in (first, second):
        count = f"(await store.fold({record!r})).order.length === 80"
        wait_until(tablet.page, count)
        assert numbers(tablet, record) == [str(n) for n in range(80)]
    second.page.close()


def test_what_one_page_wrote_is_seen_by_the_next_entry_of_another(page, shared_browser):
    first = StorePage(page, "next-page")
    second = StorePage(shared_browser.opens(page.url), "next-page")
    record = first.new_record()
    second.fold(record)
    for n in range(10):
        first.appends(record, NAME, f"first {n}")
        second.appends(record, NAME, f"second {n}")
    assert second.shows(record, NAME) == ["second 9"]
    second.page.close()


def test_another_page_is_told_what_changed(page, shared_browser):
    first = StorePage(page, "told")
    second = StorePage(shared_browser.opens(page.url), "told")
    second.page.evaluate("""() => { window.heard = [];
      window.store.onChange((change, here) => window.heard.push([change, here])); }""")
    record = first.new_record()
    first.appends(record, NAME, SECRET)
    wait_until(second.page, "window.heard.length > 0")
    told = [{"what": "record", "record": record, "isWritten": True}, False]
    assert second.page.evaluate("window.heard")[0] == told
    assert second.shows(record, NAME) == [SECRET]
    second.page.close()


def test_a_listener_that_was_stopped_hears_nothing(page):
    tablet = StorePage(page, "stopped")
    page.evaluate("""() => { window.heard = 0;
      window.store.onChange(() => window.heard++)(); }""")
    tablet.appends(tablet.new_record(), NAME, SECRET)
    assert page.evaluate("window.heard") == 0


def test_nothing_written_can_be_read_in_the_database(page):
    tablet = StorePage(page, "sealed")
    record = tablet.new_record()
    tablet.appends(record, NAME, SECRET)
    page.evaluate("([r, p, t]) => store.draft(r, p, t)", [record, "remarks.a", SECRET])
    page.evaluate(PHOTO, [record, list(SECRET.encode())])
    dumped = page.evaluate(DUMP, "sealed")
    assert record in dumped
    assert SECRET not in dumped
    assert NAME not in dumped
    assert MIRA["name"] not in dumped


def test_a_row_of_the_log_says_in_clear_only_what_the_header_says(page):
    tablet = StorePage(page, "clear")
    kept = tablet.appends(tablet.new_record(), NAME, SECRET)
    [row] = tablet.rows("entries")
    header = decode_header(row["header"].encode())
    assert set(row) == {"id", "record", "log", "seq", "header", "sealed", "digest"}
    assert (header.id, header.seq) == (kept["id"], 1)
    assert (row["id"], row["record"], row["log"]) == (
        header.id,
        header.record,
        header.log,
    )


def test_one_damaged_entry_hides_no_other_and_is_told(page):
    tablet = StorePage(page, "damaged")
    record = tablet.new_record()
    page.evaluate(APPEND_MANY, [record, READINGS, 0, 3])
    page.evaluate(DAMAGE, "damaged")
    again = StorePage(page, "damaged")
    assert numbers(again, record) == ["0", "2"]
    assert again.status()["damaged"] == 1
    assert "strip.damaged" in again.notes()


def test_a_draft_is_overwritten_and_gone_with_the_entry_that_replaces_it(page):
    tablet = StorePage(page, "drafts")
    record = tablet.new_record()
    for text in ("A", "AL", "ALD"):
        page.evaluate("([r, p, t]) => store.draft(r, p, t)", [record, NAME, text])
    page.evaluate("([r, p]) => store.draft(r, p, 'x')", [record, "remarks.b"])
    drafts = "(record) => store.drafts(record)"
    assert page.evaluate(drafts, record) == {NAME: "ALD", "remarks.b": "x"}
    tablet.appends(record, NAME, "ALDERMERE", clears=True)
    assert page.evaluate(drafts, record) == {"remarks.b": "x"}
    page.evaluate("([r, p]) => store.dropDraft(r, p)", [record, "remarks.b"])
    assert page.evaluate(drafts, record) == {}


def test_drafts_of_one_record_are_not_shown_in_another(page):
    tablet = StorePage(page, "drafts-apart")
    first, second = tablet.new_record(), tablet.new_record()
    page.evaluate("([r, p]) => store.draft(r, p, 'first')", [first, NAME])
    assert page.evaluate("(record) => store.drafts(record)", second) == {}


def test_a_photo_keeps_its_bytes_and_is_named_by_what_is_sealed(page):
    tablet = StorePage(page, "photos")
    record = tablet.new_record()
    original = bytes(range(256)) * 40
    told = page.evaluate(PHOTO, [record, list(original)])
    assert bytes(told["bytes"]) == original
    assert told["type"] == "image/jpeg"
    value = told["value"]
    assert value["sha256"] == hashlib.sha256(original).hexdigest()
    assert (value["size"], value["caption"]) == (len(original), "RV, 34 cm")
    [row] = tablet.rows("photos")
    sealed = bytes(row["bytes"])
    assert value["sealed"] == hashlib.sha256(sealed).hexdigest() == row["sealed"]
    assert tablet.status()["photosHere"] == 1


def test_a_photo_that_is_not_on_this_tablet_is_none(page):
    StorePage(page, "no-photo")
    assert page.evaluate("store.photo({ sealed: '00' })") is None


def test_records_are_listed_latest_first_with_what_is_unsent(page):
    tablet = StorePage(page, "records")
    first, second = tablet.new_record(), tablet.new_record()
    tablet.appends(first, NAME, "FIRST")
    tablet.appends(second, NAME, "SECOND")
    tablet.appends(first, NAME, "FIRST AGAIN")
    listed = page.evaluate("store.records()")
    assert [(row["record"], row["entries"], row["unsent"]) for row in listed] == [
        (first, 2, 2),
        (second, 1, 1),
    ]
    assert listed[0]["fold"]["values"][NAME][0]["value"] == "FIRST AGAIN"
    assert listed[0]["first_ms"] <= listed[1]["first_ms"] <= listed[0]["last_ms"]


def test_a_tablet_that_was_never_enrolled_says_that_all_stays_here(page):
    tablet = StorePage(page, "not-enrolled")
    record = tablet.new_record()
    assert tablet.status()["words"] == {"key": "strip.no_entries", "args": {}}
    tablet.appends(record, NAME, "ALDERMERE")
    status = tablet.status()
    assert status["words"] == {"key": "strip.none_sent", "args": {"total": 1}}
    assert (status["total"], status["unsent"], status["onServer"]) == (1, 1, 0)
    assert "strip.not_enrolled" in tablet.notes()
    assert page.evaluate("store.enrolment()") is None


def test_the_status_says_whether_the_browser_promised_to_keep_the_store(page):
    storage = StorePage(page, "persist").status()["storage"]
    assert storage["persisted"] in (True, False)
    assert storage["quota"] > storage["usage"] >= 0


def test_little_room_left_is_told(page):
    page.evaluate("""() => { navigator.storage.estimate = async () =>
      ({ usage: 950e6, quota: 1000e6 }); }""")
    tablet = StorePage(page, "low")
    notes = tablet.status()["notes"]
    assert {"key": "strip.storage_low", "args": {"free_mb": 50}} in notes


def test_an_entry_fills_in_what_the_screen_left_out(page):
    tablet = StorePage(page, "defaults")
    record = tablet.new_record()
    nobody = {"person": None, "name": "", "role": "assistant"}
    named = tablet.appends(record, NAME, "ALDERMERE")["id"]
    unnamed = tablet.appends(record, NAME, "ALDERMERE", author=nobody)["id"]
    told = tablet.fold(record)["entries"]
    assert told[named]["entered_by"] == told[named]["author"] == MIRA
    assert told[named]["called_by"] is None
    assert (told[named]["source"], told[named]["how"]) == ("seen", "typed")
    assert told[unnamed]["how"] == "none"
    assert told[named]["at"]["zone"] == "Europe/Oslo"
    assert told[named]["at"]["skew_ms"] is None


@pytest.mark.parametrize(
    ("utc", "offset_min"),
    [
        ("2031-01-15T12:00:00.000Z", 60),
        ("2031-07-15T12:00:00.000Z", 120),
        # IANA Europe/Oslo: summer time ends on the last Sunday of October, 01:00 UTC.
        ("2031-10-26T00:59:59.999Z", 120),
        ("2031-10-26T01:00:00.000Z", 60),
    ],
)
def test_the_offset_is_the_zone_s_own_at_that_instant(page, utc, offset_min):
    told = page.evaluate(
        """async (utc) => {
          const { stamp } = await import("/static/js/log/clock.js");
          return stamp(Date.parse(utc), "Europe/Oslo");
        }""",
        utc,
    )
    assert told == {"utc": utc, "zone": "Europe/Oslo", "offset_min": offset_min}


def test_a_record_opened_from_packs_is_the_record_that_was_written(page):
    tablet = StorePage(page, "packs")
    record = tablet.new_record()
    page.evaluate(APPEND_MANY, [record, READINGS, 0, 250])
    written = tablet.fold(record)
    again = StorePage(page, "packs")
    assert again.fold(record) == written
    page.evaluate(COUNT_PACKS, "packs")
    wait_until(page, "(await packs()) === 2")
    third = StorePage(page, "packs")
    third.appends(record, READINGS, {"n": "250"}, op="add")
    assert numbers(third, record) == [str(n) for n in range(251)]
    fourth = StorePage(page, "packs")
    assert numbers(fourth, record) == [str(n) for n in range(251)]


def test_five_thousand_entries_open_whole_and_the_time_is_printed(page):
    tablet = StorePage(page, "many")
    record = tablet.new_record()
    begun = time.monotonic()
    for start in range(0, 5000, 500):
        page.evaluate(APPEND_MANY, [record, READINGS, start, 500])
    wrote = (time.monotonic() - begun) * 1000 / 5000
    first = page.evaluate(TIMED_OPENING, ["many", record])
    StorePage(page, "many").fold(record)
    page.evaluate(COUNT_PACKS, "many")
    wait_until(page, "(await packs()) === 50")
    packed = page.evaluate(TIMED_OPENING, ["many", record])
    print(
        f"5,000 entries: {wrote:.1f} ms an entry written; opened and folded in "
        f"{first['took']:.0f} ms one by one, {packed['took']:.0f} ms from packs"
    )
    assert first["entries"] == packed["entries"] == 5000
