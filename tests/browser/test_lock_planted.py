"""What lies in the profile of a locked tablet: none of two hundred planted strings."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.support import lock
from tests.support.bedside import Bedside
from tests.support.heaps import heap_of, heaps_of_workers
from tests.support.profile_bytes import decompressed, found_in

COUNT = 200
# No sign of it is like another's: what is found is this very string.
PLANTED = [f"Zx{n:03d}quorn{(n * 7919) % 1000:03d}Vy" for n in range(COUNT)]
# Kept as entries of fifty records, as long texts, and as drafts of what is half typed.
PLANT = """async (planted) => {
  const { openStore } = await import("/static/js/log/store.js");
  const { heldKey: dataKey } = await import("/static/js/sw-vault.js");
  const store = await openStore({ dataKey });
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  let record = "";
  for (const [n, text] of planted.entries()) {
    if (n % 4 === 0) record = store.newRecord();
    const given = { path: "patient.family_name", value: text, author };
    if (n % 4 === 1) Object.assign(given, { path: "patient.given_name" });
    const filler = "the quick brown fox jumps over the lazy dog ".repeat(200);
    if (n % 4 === 2) Object.assign(given, { path: "indication.story", value: `${filler}${text}` });
    if (n % 4 === 3) await store.draft(record, "patient.given_name", text);
    else await store.append(record, given);
    await store.fold(record);
  }
  store.close();
}"""
# A codec that seals nothing: what it is given comes out as it went in.
CODEC_OFF = """SubtleCrypto.prototype.encrypt = async (how, key, bytes) => {
  const out = new Uint8Array(bytes.byteLength + 16);
  out.set(new Uint8Array(bytes.buffer ?? bytes, bytes.byteOffset ?? 0, bytes.byteLength));
  return out.buffer;
};
SubtleCrypto.prototype.decrypt = async (how, key, bytes) =>
  new Uint8Array(bytes).slice(0, -16).buffer;"""


def test_none_of_what_was_entered_lies_readable_in_a_locked_tablet_s_profile(
    standing, browser
):
    tablet = Bedside(browser, standing.url)
    page = tablet.page
    lock.sets_passphrase(page, standing.url)
    page.get_by_role("link", name="Go to the cases").click()
    lock.is_open(page)
    page.evaluate(PLANT, PLANTED[10:])
    tablet.starts_now()
    for text in PLANTED[:5]:
        tablet.types("Family name", text)
    box = tablet.field("Given name").get_by_role("textbox", name="Given name")
    for text in PLANTED[5:10]:
        box.fill("")
        box.press_sequentially(text)
    page.reload()
    lock.is_open(page)
    expect(box).to_have_value(PLANTED[9])
    lock.locks(page)
    browser.close()
    assert found_in(browser.profile, PLANTED) == set()
    # What is in clear is found: the search looks where it should.
    assert found_in(browser.profile, [lock.NAME]) == {lock.NAME}


def test_the_search_finds_every_one_of_them_where_nothing_is_sealed(standing, browser):
    browser.context.add_init_script(CODEC_OFF)
    page = browser.opens(f"{standing.url}/static/js/types.js")
    page.evaluate(PLANT, PLANTED)
    browser.close()
    assert found_in(browser.profile, PLANTED) == set(PLANTED)


def test_once_locked_no_memory_of_page_or_worker_holds_what_was_entered(
    standing, browser
):
    tablet = Bedside(browser, standing.url)
    lock.sets_passphrase(tablet.page, standing.url)
    tablet.page.get_by_role("link", name="Go to the cases").click()
    lock.is_open(tablet.page)
    tablet.starts_now()
    for text in PLANTED[:5]:
        tablet.types("Family name", text)
        tablet.keeps("patient.family_name", text)
    box = tablet.field("Given name").get_by_role("textbox", name="Given name")
    box.press_sequentially(PLANTED[5])
    # What is in memory is found: the search looks where it should.
    assert {text for text in PLANTED[:6] if text in heap_of(tablet.page)} >= {
        PLANTED[4],
        PLANTED[5],
    }
    lock.locks(tablet.page)
    workers = heaps_of_workers(tablet.page)
    assert len(workers) == 1
    # Of the worker itself there is something: it was looked at.
    assert "wiremark-shell-" in workers[0]
    for heap in (heap_of(tablet.page), *workers):
        assert [text for text in PLANTED[:6] if text in heap] == []


@pytest.mark.parametrize(
    ("packed", "plain"),
    [
        # Worked by hand from the format's description.
        (b"\x05\x10hello", b"hello"),
        (b"\x0a\x04ab\x21\x02", None),
        (b"\x0a\x04ab\x11\x02", b"ababababab"),
        (b"\x08\x04ab\x16\x02\x00", b"abababab"),
    ],
)
def test_what_is_compressed_is_read_as_its_format_says(packed, plain):
    if plain is None:
        assert decompressed(packed, is_cut=True) == b"ab"
    else:
        assert decompressed(packed) == plain
