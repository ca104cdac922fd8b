"""The coding desk in a real browser: keys, flags, and the file, with no dialog."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.support.browser import CHROMIUM, FLAGS
from tests.support.cast import PASSWORD
from tests.support.sent_cases import sends_case

# Source: axe-core, as tests/js pins it.
AXE = Path(__file__).parents[1] / "js" / "node_modules" / "axe-core" / "axe.min.js"
FINDINGS = """async () => (await axe.run()).violations
  .filter((found) => ["serious", "critical"].includes(found.impact))
  .map((found) => `${found.id}: ${found.nodes[0].html.slice(0, 120)}`)"""


def signs_in(page, coder):
    page.get_by_label("Sign-in name").fill(coder.person.login)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()


def signs(signer, record):
    page = f"/records/{record}/sign"
    text = signer.opens(page).text
    digest = re.search(r'name="digest" value="([0-9a-f]{64})"', text).group(1)
    upto = re.search(r'name="upto" value="(\d+)"', text).group(1)
    fields = {"digest": digest, "upto": upto, "agree": "yes", "password": PASSWORD}
    assert signer.posts(page, **fields).status_code == 302


@pytest.fixture
def record(cast):
    """A complete invented case, signed."""
    sent = sends_case(cast.tablet(), "demo/1-clean-emergency")
    cast.signer.signs_in()
    signs(cast.signer, sent)
    return sent


@pytest.fixture
def desk(live, cast, browser, record):
    """The coding desk, open on that case."""
    browser.context.add_init_script(path=AXE)
    page = browser.opens(f"{live.url}/coding/{record}")
    signs_in(page, cast.coder)
    expect(page.get_by_role("heading", name="ALDERMERE, Test-Ines")).to_be_visible()
    # The page works before its script; the keys answer once it has run.
    expect(page.locator("html[data-keys]")).to_have_count(1)
    yield page
    assert browser.problems == []


SIZES = [(1440, 900), (1280, 800), (800, 1280), (390, 844)]
TOO_WIDE = """() => [...document.querySelectorAll('.coding *')].filter((e) => {
  const box = e.getBoundingClientRect();
  return box.width > 0 && box.right > innerWidth + 1;
}).length"""


def picked(page) -> str:
    return (
        page.locator(".why[data-picked]").get_by_role("heading", level=3).inner_text()
    )


def test_flags_are_walked_by_keys_and_picked_by_a_click(desk):
    flags = desk.locator(".flag")
    count = flags.count()
    assert count >= 3
    first = picked(desk)
    assert first.startswith("I44.2")
    expect(desk.locator(".told[data-lit]").first).to_contain_text("Complete AV block")
    desk.keyboard.press("j")
    assert picked(desk) != first
    expect(flags.nth(1)).to_be_focused()
    desk.keyboard.press("k")
    assert picked(desk) == first
    for _ in range(count):
        desk.keyboard.press("j")
    assert picked(desk) == first
    flags.nth(2).click()
    expect(desk.locator(".why[data-picked]")).to_have_attribute("data-why", "3")
    expect(desk.locator(".why[data-picked]")).to_be_visible()


def test_v_shows_the_other_view_and_h_hands_out_the_file(desk, db):
    desk.keyboard.press("v")
    pacing = desk.locator(".flag", has_text="5A1223Z")
    expect(pacing).to_have_attribute("data-kind", "full")
    assert desk.url.endswith("?view=inpatient")
    expect(desk.locator("html[data-keys]")).to_have_count(1)
    with desk.expect_download() as started:
        desk.keyboard.press("h")
    raw = Path(started.value.path()).read_bytes()
    rows = list(csv.DictReader(io.StringIO(raw.decode(), newline="")))
    assert started.value.suggested_filename.endswith("-E0001.csv")
    assert rows[0]["rule"] == "dx-avb-3"
    assert db.conn.execute("SELECT rows FROM export_log").fetchone()[0] == len(rows)


def test_it_is_read_at_every_size_and_by_everybody(desk, live, record, browser):
    for width, height in SIZES:
        desk.set_viewport_size({"width": width, "height": height})
        assert desk.evaluate(TOO_WIDE) == 0, width
        assert desk.evaluate("document.documentElement.scrollWidth <= innerWidth")
    reached = set()
    for _ in range(80):
        desk.keyboard.press("Tab")
        reached |= set(desk.evaluate("document.activeElement.className").split())
    assert {"flag", "coding-drawer", "key-main"} <= reached
    assert browser.problems == []
    assert desk.evaluate(FINDINGS) == []
    desk.goto(f"{live.url}/coding")
    assert desk.evaluate(FINDINGS) == []
    # The measuring script itself tries inline styles, which our policy refuses.
    browser.problems.clear()


def test_without_scripts_a_flag_still_opens_its_drawer(
    live, cast, record, playwright_here
):
    chromium = playwright_here.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
    page = chromium.new_context(java_script_enabled=False).new_page()
    page.goto(f"{live.url}/coding/{record}")
    signs_in(page, cast.coder)
    expect(page.locator("#why-1")).to_be_visible()
    page.locator(".flag").nth(1).click()
    expect(page.locator("#why-2")).to_be_visible()
    expect(page.locator("#why-1")).to_be_hidden()
    chromium.close()
