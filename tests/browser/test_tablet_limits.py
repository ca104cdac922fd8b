"""A running case goes on by the limits it began with, whatever the hospital chooses."""

import json
import re

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.joining import JOINS
from tests.support.main_job import NETWORK_COMES_AND_GOES, enrols
from tests.support.told_here import Told
from webapp.clinical.policy import load
from webapp.clinical.policy_kept import named, written
from webapp.record import pinned_limits

STRICTER = {"threshold_margin_floor": "2.4"}
OLD, NEW = "Look now: Margin 1.6 ×, below 2.0 ×", "Look now: Margin 1.6 ×, below 2.4 ×"
BAR = "#remark b"


def amount(figure):
    return {"as": figure, "n": figure.removesuffix(".0"), "unit": "mA"}


def margin_told():
    """Threshold 1.2 with loss at 1.0, dial left at 2.0: 2.0 ÷ 1.2 is 1.66, below both."""
    told = Told()
    wire = told.adds("", "wires", {"name": "Wire 1"})
    path = f"wires/{wire}/capture"
    full = {"kind": "full", "set_output": amount("5")}
    test = told.adds("", f"{path}.threshold_test", full)
    for output, result in (
        ("1.4", "captures"),
        ("1.2", "captures"),
        ("1.0", "no_capture"),
    ):
        reading = {"of": test, "output": amount(output), "result": result}
        told.adds("", f"{path}.output_reading", reading)
    left = {"output": amount("2.0"), "when_kind": "final"}
    told.adds("", f"{path}.dial_left_at", left)
    return told


def begins(bedside):
    """Begin a case by its key, with a margin of 1.6; return its id."""
    bedside.goes_home()
    bedside.starts_new()
    return margin_told().put(bedside.page, bedside.record)


def says(bedside, record, text):
    """Open the case and wait until its remark says this."""
    bedside.page.evaluate("(r) => { location.hash = `#/case/${r}/capture`; }", record)
    expect(bedside.page.locator(BAR)).to_have_text(text)


def chooses_stricter(live):
    """Start the server again with another limit."""
    live.stop()
    rows = "\n".join(f'{key} = "{value}"' for key, value in STRICTER.items())
    site = live.home / "wiremark.toml"
    before = site.read_text(encoding="utf-8") if site.exists() else ""
    site.write_text(f"{before}\n[policy]\n{rows}\n", encoding="utf-8")
    live.start()


def is_told(bedside):
    """Wait until the tablet was told which limits are in use now."""
    name = json.dumps(named(written(load(STRICTER))))
    wait_until(
        bedside.page,
        f"""(await (async () => {{
          const {{ openBase }} = await import("/static/js/log/db.js");
          const {{ readMeta }} = await import("/static/js/log/meta.js");
          const base = await openBase();
          const row = await readMeta(base, "limits");
          base.close();
          return row?.in_use === {name};
        }})())""",
    )


def is_sent(bedside):
    expect(bedside.page.locator("#case-strip")).to_contain_text(
        re.compile("On the server"), timeout=90_000
    )


@pytest.fixture
def bedside(browser, live, db):
    """An enrolled tablet that can go without network."""
    enrols(browser, live, db).close()
    made = Bedside(browser, live.url)
    made.page.evaluate(NETWORK_COMES_AND_GOES)
    return made


def test_a_running_case_keeps_its_limit_and_a_new_case_has_the_new_one(bedside, live):
    record = begins(bedside)
    says(bedside, record, OLD)
    is_sent(bedside)
    chooses_stricter(live)
    is_told(bedside)
    says(bedside, begins(bedside), NEW)
    says(bedside, record, OLD)
    bedside.reloads()
    says(bedside, record, OLD)


def test_a_case_begun_without_network_keeps_the_limit_of_its_form_at_the_desk_too(
    bedside, live, db
):
    live.stop()
    record = begins(bedside)
    chooses_stricter(live)
    is_told(bedside)
    is_sent(bedside)
    says(bedside, record, OLD)
    found = pinned_limits.limits_of(db, record, load(STRICTER))
    assert found.rows["threshold_margin_floor"].value == "2.0"


def test_a_tablet_with_a_newer_form_reads_a_running_case_by_its_own_limit(
    bedside, second_browser, live, db
):
    record = begins(bedside)
    is_sent(bedside)
    chooses_stricter(live)
    enrols(second_browser, live, db, "Tablet 3").close()
    second = Bedside(second_browser, live.url)
    second.page.evaluate(JOINS, record)
    second.page.evaluate(NETWORK_COMES_AND_GOES)
    says(second, record, OLD)
    says(second, begins(second), NEW)
