"""The far view: four numbers and a pattern for who stands across the room."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

from tests.support.bedside import WHO_NOW
from tests.support.browser import wait_until
from tests.support.looking import SIZES, audit, clipped, faint, wider_than_screen
from tests.support.told_here import of_file

# In the middle of the invented case, after its settings were read back.
NOW = datetime(2026, 5, 14, 10, 50, tzinfo=ZoneInfo("America/Chicago"))
NAME, INITIALS = "ALDERMERE", "T. I. A."
OTHER = "019e0000-0000-7000-8000-000000000000"
READ_BACK = "capture.dial_left_at"
_SIZES_PX = """() => Object.fromEntries([...document.querySelectorAll(".far-cell .num b")].map((whole) =>
  [whole.closest(".far-cell").dataset.of, parseFloat(getComputedStyle(whole).fontSize)]))"""
_CUT = """() => [...document.querySelectorAll(".far-cell")].filter((cell) => {
  const outer = cell.getBoundingClientRect();
  return [...cell.querySelectorAll(".num-unit, .num-part, .far-pattern, .far-name")].some((part) => {
    const inner = part.getBoundingClientRect();
    return inner.right > outer.right + 1 || inner.top < outer.top - 1;
  }) || outer.bottom > innerHeight + 1;
}).map((cell) => cell.dataset.of)"""

# What a tablet has and this browser may not: a battery, and a screen that can be held lit.
_DEVICE = """
  const held = (window.locks = []);
  Object.defineProperty(navigator, "getBattery", { value: async () =>
    ({ level: 0.12, charging: false, addEventListener: () => {} }) });
  Object.defineProperty(navigator, "wakeLock", { value: { request: async () => {
    const lock = { released: false, release: async () => { lock.released = true; } };
    held.push(lock);
    return lock;
  } } });
"""


@pytest.fixture(scope="module")
def told(open_tablet):
    """The invented case up to its settings, nothing of the days after."""
    page = open_tablet.page
    page.clock.set_fixed_time(NOW)
    case = of_file("demo/1-clean-emergency")
    last = [n for n, e in enumerate(case.entries) if READ_BACK in e["entry"]["path"]]
    case.entries = case.entries[: last[0] + 1]
    record = case.put(page)
    open_tablet.reloads()
    return open_tablet, record


@pytest.fixture
def far(told):
    """The case seen from afar."""
    tablet, record = told
    tablet.browser.problems.clear()
    tablet.page.evaluate("(r) => { location.hash = `#/far/${r}`; }", record)
    expect(cell(tablet.page, "depth")).to_be_visible()
    yield tablet
    assert tablet.problems == []


def cell(page, of):
    return page.locator(f"#far .far-cell[data-of={of}]")


def adds(page, record, path, value):
    """Keep a row of the case's wire, as another window does."""
    page.evaluate(
        """async ([record, path, value]) => {
          const { openStore } = await import("/static/js/log/store.js");
          const store = await openStore();
          const wire = (await store.fold(record)).rows.wires[0].id;
          const author = { person: null, name: "K. Ouse-Example", role: "nurse" };
          await store.append(record, { path: `wires/${wire}/${path}`, op: "add", value, author });
          store.close();
        }""",
        [record, path, value],
    )


def test_each_number_stands_with_its_unit_and_its_age(far):
    for of, said in (
        ("depth", "RV contact (ST up)"),
        ("output", "3.0"),
        ("threshold", "1.2"),
        ("margin", "2.5"),
    ):
        expect(cell(far.page, of)).to_contain_text(said)
        expect(cell(far.page, of).locator(".far-name")).to_contain_text(" min")
        expect(cell(far.page, of).locator(".num-unit")).to_have_count(1)


def test_whole_parts_are_at_least_200_px_high_on_a_tablet_that_lies(far):
    found = far.page.evaluate(_SIZES_PX)
    assert sorted(found) == ["depth", "margin", "output", "threshold"]
    assert {of: px for of, px in found.items() if px < 200} == {}


def test_it_says_case_initials_and_clock_and_no_name(far):
    head = far.page.locator(".far-head")
    expect(head.locator(".far-who")).to_have_text(INITIALS)
    expect(head.locator("time")).to_have_text("17:50")
    assert NAME not in far.page.locator("body").inner_text()
    assert NAME not in far.page.title()


@pytest.mark.parametrize("size", SIZES)
def test_nothing_is_cut_and_nothing_is_faint_at_any_size(far, size):
    width, height = SIZES[size]
    far.page.set_viewport_size({"width": width, "height": height})
    try:
        assert wider_than_screen(far.page) == []
        assert clipped(far.page) == []
        assert far.page.evaluate(_CUT) == []
        assert faint(far.page) == []
    finally:
        far.page.set_viewport_size({"width": 1280, "height": 800})


def test_axe_finds_nothing(far):
    assert audit(far) == []


def test_one_key_leads_there_and_one_back(far):
    far.page.locator("[data-act=far-back]").click()
    expect(far.page.locator("#panel")).to_be_visible()
    far.page.locator("[data-act=far]:visible").click()
    expect(cell(far.page, "depth")).to_contain_text("34")


def test_without_a_case_it_is_blank(far, told):
    for address in ("#/far", f"#/far/{OTHER}"):
        far.page.evaluate("(to) => { location.hash = to; }", address)
        expect(far.page.locator("#far .far-cell")).to_have_count(0)
        expect(far.page.locator("#far .far-who")).to_have_count(0)


@pytest.fixture
def device(far, told):
    """A second window of the case that has a low battery and a screen to hold lit."""
    _, record = told
    page = far.browser.context.new_page()
    page.add_init_script(_DEVICE)
    page.goto(f"{far.page.url.split('#')[0]}#/case/{record}/finish")
    expect(page.locator("#part-finish")).to_be_visible()
    yield page
    page.close()


def test_a_low_battery_is_told_and_what_still_works_is_said_first(device):
    expect(device.locator("#stand .stand-note")).to_have_text(
        "All kept here; battery at 12 %"
    )
    expect(device.locator("#case-strip .store .lead")).to_be_visible()


def test_the_screen_is_held_lit_while_a_case_is_in_view_and_no_longer(device):
    wait_until(device, "window.locks.some((lock) => !lock.released)")
    device.evaluate("location.hash = '#/'")
    wait_until(device, "window.locks.every((lock) => lock.released)")


def test_a_second_window_hears_a_moved_wire_and_asks_for_a_re_test(far, told):
    _, record = told
    second = far.browser.opens(far.page.url)
    expect(cell(second, "threshold")).to_contain_text("1.2")
    value = {"depth": {"n": "37", "unit": "cm", "as": "37"}, "read_at": "sheath_hub"}
    adds(far.page, record, "advance.depth_reading", value)
    expect(cell(second, "depth")).to_contain_text("37")
    expect(cell(second, "depth").locator(".far-pattern")).to_have_text("…")
    expect(cell(second, "threshold")).to_contain_text("re-test")
    expect(cell(second, "threshold").locator(".num")).to_have_count(0)
    expect(cell(second, "margin")).to_contain_text("unknown")
    second.close()


def test_volts_at_another_pulse_width_are_said_not_to_be_comparable(far, told):
    _, record = told
    volts = {"n": "1.0", "unit": "V", "as": "1.0"}
    widths = [{"n": n, "unit": "ms", "as": n} for n in ("1.5", "0.4")]
    adds(far.page, record, "capture.generator", {"pulse_width": widths[0]})
    reading = {"output_v": volts, "result": "captures"}
    adds(far.page, record, "capture.output_reading", reading)
    left = {"output_v": {"n": "2.5", "unit": "V", "as": "2.5"}}
    adds(far.page, record, READ_BACK, {**left, "pulse_width": widths[1]})
    expect(cell(far.page, "output")).to_contain_text("2.5")
    expect(cell(far.page, "threshold")).to_contain_text("≤ 1.0")
    margin = cell(far.page, "margin")
    expect(margin).to_contain_text("not comparable: other pulse width")
    expect(margin).to_contain_text("unknown")
    expect(margin.locator(".num")).to_have_count(0)
    assert far.page.evaluate(_CUT) == []


def test_settings_of_a_test_stay_in_sight_on_it(far, told):
    _, record = told
    adds(far.page, record, "capture.threshold_test", {"kind": "full"})
    banner = far.page.locator(".far-banner")
    expect(banner).to_contain_text("TEST SETTINGS")


def test_a_size_key_answers_its_field_and_says_at_once_whether_the_wire_passes(far):
    far.goes_home()
    far.starts_new()
    far.goes_to("Approach")
    kit = far.page.locator("#part-approach .kit")
    for label, fr in (("Introducer", "5"), ("Pacing wire", "6")):
        kit.get_by_role("button", name=f"{label} {fr} Fr", exact=True).click()
        far.says(label, "kept")
    expect(kit.locator(".kit-said")).to_have_text(
        "Look again: 6 Fr wire does not pass 5 Fr sheath"
    )
    kit.get_by_role("button", name="Introducer 6 Fr", exact=True).click()
    expect(kit.locator(".kit-said")).to_have_text(
        "Fits: 6 Fr wire passes a 6 Fr sheath"
    )
    wire = far.rows("wires")[0]["id"]
    kept = far.value(f"wires/{wire}/approach.introducer_fr")
    assert kept == {"as": "6", "n": "6", "unit": "[Ch]"}


def test_another_running_case_says_who_it_is_over_everything_until_a_tap(far, told):
    _, record = told
    far.page.remove_locator_handler(far.page.locator(WHO_NOW))
    far.goes_home()
    far.starts_now()
    far.types("Family name", NAME)
    far.says("Family name", "kept")
    begun = far.record
    far.goes_home()
    expect(far.page.locator(".cases .cases-alike")).to_contain_text(NAME)
    far.page.locator(f".cases-row[data-record='{record}'] a").click()
    over = far.page.get_by_role("dialog", name="Another case")
    expect(over.locator(".switch-now")).to_contain_text("00417220")
    expect(over.locator(".switch-not")).to_contain_text("no band yet")
    assert far.page.evaluate("document.querySelector('#case').inert")
    assert wider_than_screen(far.page) == []
    assert faint(far.page) == []
    over.get_by_role("button").click()
    expect(over).to_have_count(0)
    assert not far.page.evaluate("document.querySelector('#case').inert")
    assert far.record == record != begun
