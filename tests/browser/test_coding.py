"""The coding desk in a real browser: keys, flags, and the file, with no dialog."""

from __future__ import annotations

import csv
import io
import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.support.browser import FLAGS
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
    yield page
    assert browser.problems == []


def picked(page) -> str:
    return (
        page.locator(".why[data-picked]").get_by_role("heading", level=3).inner_text()
    )


def test_the_first_flag_is_picked_and_its_facts_are_lit(desk):
    assert picked(desk).startswith("I44.2")
    lit = desk.locator(".told[data-lit]")
    expect(lit.first).to_contain_text("Complete AV block")
    expect(desk.locator(".why[data-picked]")).to_have_count(1)


def test_j_and_k_walk_the_flags_round_and_back(desk):
    flags = desk.locator(".flag")
    count = flags.count()
    assert count >= 3
    first = picked(desk)
    desk.keyboard.press("j")
    assert picked(desk) != first
    expect(flags.nth(1)).to_be_focused()
    desk.keyboard.press("k")
    assert picked(desk) == first
    for _ in range(count):
        desk.keyboard.press("j")
    assert picked(desk) == first


def test_a_flag_is_picked_by_a_click_as_well(desk):
    desk.locator(".flag").nth(2).click()
    expect(desk.locator(".why[data-picked]")).to_have_attribute("data-why", "3")
    expect(desk.locator(".why[data-picked]")).to_be_visible()


def test_v_shows_the_other_view(desk):
    desk.keyboard.press("v")
    desk.wait_for_url("**?view=inpatient")
    expect(desk.locator(".flag", has_text="5A1223Z")).to_be_visible()
    expect(desk.locator(".flag", has_text="5A1223Z")).to_have_attribute(
        "data-kind", "full"
    )


def test_h_hands_out_the_file(desk, db):
    with desk.expect_download() as started:
        desk.keyboard.press("h")
    raw = Path(started.value.path()).read_bytes()
    rows = list(csv.DictReader(io.StringIO(raw.decode(), newline="")))
    assert started.value.suggested_filename.endswith("-E0001.csv")
    assert rows[0]["rule"] == "dx-avb-3"
    assert db.conn.execute("SELECT rows FROM export_log").fetchone()[0] == len(rows)


def test_everything_is_reached_by_the_keyboard_alone(desk):
    reached = set()
    for _ in range(80):
        desk.keyboard.press("Tab")
        reached.add(desk.evaluate("document.activeElement.className || ''"))
        if "coding-drawer" in reached:
            break
    assert {"flag", "coding-drawer"} <= reached
    assert any("key-main" in name for name in reached)


@pytest.mark.parametrize(
    ("width", "height"), [(1440, 900), (1280, 800), (800, 1280), (390, 844)]
)
def test_no_text_runs_out_of_the_page(desk, width, height):
    desk.set_viewport_size({"width": width, "height": height})
    wide = desk.evaluate(
        "[...document.querySelectorAll('.coding *')].filter((e) => {"
        " const box = e.getBoundingClientRect();"
        " return box.width > 0 && box.right > innerWidth + 1; }).length"
    )
    assert wide == 0
    assert desk.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_no_serious_finding_of_accessibility(desk, live, record):
    assert desk.evaluate(FINDINGS) == []
    desk.goto(f"{live.url}/coding/{record}?view=inpatient")
    assert desk.evaluate(FINDINGS) == []
    desk.goto(f"{live.url}/coding")
    assert desk.evaluate(FINDINGS) == []


def test_without_scripts_a_flag_still_opens_its_drawer(
    live, cast, record, playwright_here
):
    chromium = playwright_here.chromium.launch(
        executable_path=shutil.which("chromium"), args=FLAGS
    )
    page = chromium.new_context(java_script_enabled=False).new_page()
    page.goto(f"{live.url}/coding/{record}")
    signs_in(page, cast.coder)
    expect(page.locator("#why-1")).to_be_visible()
    page.locator(".flag").nth(1).click()
    expect(page.locator("#why-2")).to_be_visible()
    expect(page.locator("#why-1")).to_be_hidden()
    chromium.close()
