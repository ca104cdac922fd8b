"""Start: cases on this tablet, a case begun without a name, a case brought to its end."""

import re

import pytest
from playwright.sync_api import expect

HOSTILE = "<b>Ó'Brien & Søn</b>"
PARTS = (
    "Patient",
    "Indication",
    "Consent",
    "Approach",
    "Advance",
    "Capture",
    "Finish",
    "Pacing checks",
    "Removal",
)


def test_start_now_stamps_the_decision_and_gives_a_code(bedside):
    bedside.starts_now()
    (decision,) = bedside.rows("moments")
    assert decision["value"]["name"] == "decision"
    assert decision["value"]["moment"]["certainty"] == "exact"
    assert re.fullmatch("[0-9]{4}", bedside.value("patient.case_code"))
    strip = bedside.page.locator("#case-strip")
    expect(strip).to_contain_text("NAME NOT KNOWN")
    expect(strip).to_contain_text("since decision")


def test_a_new_case_stamps_no_decision(bedside):
    bedside.starts_new()
    assert bedside.rows("moments") == []
    expect(bedside.page.locator("#case-strip")).to_contain_text("since opened")


def test_advance_is_two_taps_from_start(bedside):
    bedside.page.get_by_role("button", name="Start now, no name").click()
    bedside.page.get_by_role("link", name=re.compile("^Advance")).click()
    expect(bedside.page.locator("#panel [data-act=depth-other]")).to_be_visible()


def test_a_case_stands_on_start_and_opens_again(bedside):
    bedside.starts_new()
    bedside.types("Family name", "ALDERMERE")
    bedside.says("Family name", "kept")
    record = bedside.record
    bedside.goes_home()
    row = bedside.page.locator(f'[data-record="{record}"]')
    expect(row).to_contain_text("ALDERMERE")
    row.get_by_role("link", name="Open ALDERMERE").click()
    expect(bedside.page.locator("#case-strip .who-name")).to_have_text("ALDERMERE")


def test_the_place_survives_a_reload(bedside):
    bedside.starts_new()
    bedside.goes_to("Consent")
    bedside.reloads()
    expect(bedside.page.get_by_role("heading", name="Consent", level=2)).to_be_visible()


def test_a_hostile_name_stands_as_typed_on_start(bedside):
    bedside.starts_new()
    bedside.types("Family name", HOSTILE)
    bedside.says("Family name", "kept")
    record = bedside.record
    bedside.goes_home()
    name = bedside.page.locator(f'[data-record="{record}"] .who-name')
    expect(name).to_have_text(HOSTILE)


def test_an_empty_case_reaches_finished_through_every_part(bedside):
    bedside.starts_new()
    for part in PARTS:
        bedside.goes_to(part)
    bedside.goes_to("Finish")
    bedside.page.get_by_role("button", name="Case finished").click()
    status = bedside.page.locator(".finish-said")
    expect(status).to_have_text(re.compile("^This case is finished"))
    record = bedside.record
    bedside.goes_home()
    title = bedside.page.get_by_role(
        "heading", name=re.compile("^Finished on this tablet")
    )
    expect(title).to_be_visible()
    expect(bedside.page.locator(f'[data-record="{record}"]')).to_be_visible()


def test_a_finished_case_opens_again_and_takes_answers(bedside):
    bedside.starts_new()
    bedside.goes_to("Finish")
    bedside.page.get_by_role("button", name="Case finished").click()
    bedside.page.get_by_role("button", name="Open again").click()
    expect(bedside.page.get_by_role("button", name="Case finished")).to_be_visible()
    assert [r["value"]["name"] for r in bedside.rows("moments")] == [
        "finished",
        "opened_again",
    ]


def test_the_handover_is_reached_from_finish(bedside):
    bedside.starts_new()
    bedside.goes_to("Finish")
    bedside.page.get_by_role("link", name="Handover and transfer").click()
    heading = bedside.page.get_by_role("heading", name="Handover and transfer", level=2)
    expect(heading).to_be_visible()


def test_who_is_here_is_written_beside_each_entry(bedside):
    bedside.is_now("K. Ouse-Example", "nurse")
    bedside.starts_new()
    metas = bedside.fold()["entries"].values()
    assert {m["entered_by"]["name"] for m in metas} == {"K. Ouse-Example"}
    assert {m["how"] for m in metas} == {"typed"}


def test_an_open_count_in_words_stands_on_every_part(bedside):
    bedside.starts_new()
    rail = bedside.page.get_by_role("navigation", name="Parts of the case")
    for part in PARTS:
        stop = rail.get_by_role("link", name=re.compile(f"^{part}"))
        expect(stop).to_contain_text(re.compile("open|complete"))


def test_answering_closes_a_question_in_the_count(bedside):
    bedside.starts_new()
    stop = bedside.page.get_by_role("link", name=re.compile("^Patient"))
    before = int(re.search(r"(\d+) open", stop.inner_text())[1])
    bedside.gives_no_answer("Sex for clinical use", "not known")
    bedside.says("Sex for clinical use", "not known")
    expect(stop).to_contain_text(f"{before - 1} open")


def test_nothing_runs_is_said_in_words(browser, standing):
    page = browser.opens(f"{standing.url}/tablet/")
    expect(page.get_by_text("Nothing runs on this tablet.")).to_be_visible()


@pytest.mark.parametrize("theme", ["night", "dim", "day"])
def test_the_theme_is_kept_for_the_next_start(bedside, theme):
    themed = {"night": "Dimmer", "dim": "Day", "day": "Night"}
    key = bedside.page.locator("[data-act='theme']")
    for _ in range(3):
        if bedside.page.evaluate("document.documentElement.dataset.theme") == theme:
            break
        key.click()
    expect(key).to_have_text(themed[theme])
    bedside.reloads()
    assert bedside.page.evaluate("document.documentElement.dataset.theme") == theme


# A finger on the same spot until the next case stands there; it hits what can be hit.
TAPPING = """(address) => new Promise((resolve) => {
  const label = document.querySelector("#part-patient [data-path='patient.sex'] label");
  label.scrollIntoView({ block: "center" });
  const { x, y, width, height } = label.getBoundingClientRect();
  const shown = () => document.querySelector("#case .who-name").textContent;
  const first = shown();
  location.hash = address;
  const tap = () => {
    if (shown() !== first) return resolve();
    const hit = document.elementFromPoint(x + width / 2, y + height / 2);
    if (hit?.closest("[data-path='patient.sex']")) hit.click();
    setTimeout(tap);
  };
  setTimeout(tap);
})"""


def test_a_tap_on_a_case_being_left_is_never_written_to_the_next(bedside):
    bedside.starts_new()
    bedside.types("Family name", "ALDERMERE")
    bedside.says("Family name", "kept")
    first = bedside.page.url
    bedside.goes_home()
    bedside.starts_new()
    bedside.types("Family name", "BRANDNESS")
    bedside.says("Family name", "kept")
    second = bedside.page.url
    bedside.page.evaluate(TAPPING, f"#{first.split('#')[1]}")
    assert "patient.sex" not in bedside.fold()["values"]
    bedside.page.evaluate(TAPPING, f"#{second.split('#')[1]}")
    assert "patient.sex" not in bedside.fold()["values"]
    bedside.picks("Sex for clinical use", "Female")
    bedside.keeps("patient.sex", "female")


def test_an_address_cut_in_the_middle_of_a_sign_opens_the_case(bedside):
    bedside.starts_new()
    bedside.page.evaluate("location.hash += '?at=%E0%A4%A'")
    bedside.reloads()
    bedside.picks("Identity known", "yes")
    bedside.keeps("patient.identity_known", "yes")


@pytest.mark.parametrize("size", [(390, 844), (800, 1280), (1280, 800)], ids=str)
def test_a_name_without_an_end_leaves_the_work_in_reach(bedside, size):
    bedside.page.set_viewport_size({"width": size[0], "height": size[1]})
    bedside.starts_now()
    bedside.types("Given name", "W" * 2000)
    bedside.says("Given name", "kept")
    expect(bedside.page.locator("#case-strip .who-name")).to_contain_text("W" * 2000)
    bedside.goes_to("Advance")
    bedside.page.get_by_role("button", name="Depth reading", exact=True).click()
    bedside.types("Depth", "34")
    bedside.picks("Result", "RV free")
    bedside.keeps_row()
    strip = bedside.page.locator("#case-strip").bounding_box()
    assert strip["height"] < size[1] / 2
    bedside.page.set_viewport_size({"width": 1280, "height": 800})


UNKNOWN = "This tablet holds no case under that address. It may be on another one."


@pytest.mark.parametrize(
    "address",
    ["#/case/01a20000-0000-7000-8000-000000000000/advance", "#/case/7316", "#/case"],
    ids=["of another tablet", "mistyped", "cut"],
)
def test_an_address_of_no_case_here_opens_start_and_says_so(bedside, address):
    bedside.page.evaluate("(hash) => { location.hash = hash; }", address)
    expect(bedside.page.locator("#start-alert")).to_have_text(UNKNOWN)
    expect(bedside.page.locator("#start")).to_be_visible()
    expect(bedside.page.locator("#case")).to_be_hidden()
    assert bedside.page.evaluate("location.hash") == "#/"
    bedside.reloads()
    bedside.starts_now()
    expect(bedside.page.locator("#start-alert")).to_have_text("")


def test_a_bookmark_of_no_case_here_opens_start_and_says_so(standing, shared_browser):
    address = "#/case/01a20000-0000-7000-8000-000000000000/advance"
    page = shared_browser.opens(f"{standing.url}/tablet/{address}")
    expect(page.locator("#start-alert")).to_have_text(UNKNOWN)
    expect(page.locator("#start")).to_be_visible()
    page.close()
