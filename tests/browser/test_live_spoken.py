"""Lists read aloud: a tap a line, each its own entry; all at once only after all stood there."""

import pytest
from playwright.sync_api import expect

LINES = [
    "patient",
    "procedure",
    "site",
    "all_agree",
    "allergies",
    "pads",
    "defibrillator",
    "kit",
]


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_now()
    return bedside


def opens(case, part):
    """Open a list from the head of its section."""
    case.goes_to(part)
    case.page.locator(".part:visible [data-act=spoken]").click()
    expect(case.page.locator("#who-sheet .spoken-words")).to_be_visible()


def taps(case, act):
    """Tap a key; by its keyboard, as a hand that taps twice within 400 ms trembles."""
    case.page.locator(f"#who-sheet [data-act=spoken-{act}]").press("Enter")


def says(case, words):
    expect(case.page.locator(".spoken-words")).to_have_text(words)


def told(case, prefix):
    """What the fields of a list say, by name without the prefix."""
    return {
        path.rpartition(".")[2].removeprefix(prefix): heads[0]["value"]
        for path, heads in case.fold()["values"].items()
        if path.rpartition(".")[2].startswith(prefix)
    }


def test_the_time_out_takes_eight_taps_and_each_line_is_its_own_entry(case):
    opens(case, "Consent")
    taps(case, "by-birth_date")
    for place in range(2, len(LINES) + 1):
        expect(case.page.locator("#who-sheet .sheet-of")).to_have_text(f"{place} of 8")
        taps(case, "no" if place == 6 else "yes")
    case.keeps("consent.time_out_answered", "one_by_one")
    said = told(case, "time_out_")
    assert said["identifiers"] == ["name", "birth_date"]
    assert [said[line] for line in LINES] == ["yes"] * 5 + ["no"] + ["yes"] * 2
    assert case.value("consent.time_out")["certainty"] == "exact"


def test_not_known_is_one_tap_and_the_way_back_puts_a_line_right(case):
    opens(case, "Approach")
    says(case, "Hands")
    taps(case, "not-known")
    says(case, "Cap")
    taps(case, "back")
    says(case, "Hands")
    case.keeps("approach.barrier_hands", {"absent": "not_known"})
    taps(case, "yes")
    case.keeps("approach.barrier_hands", "yes")


def test_all_at_once_waits_for_every_line_and_for_a_second_tap(case):
    opens(case, "Advance")
    everything = case.page.locator("#who-sheet [data-act=spoken-all]")
    expect(everything).to_be_disabled()
    taps(case, "no")
    expect(everything).to_be_disabled()
    taps(case, "read")
    expect(everything).to_be_enabled()
    everything.click()
    assert "curve_checked" not in told(case, "before_")
    taps(case, "confirm")
    wire = case.fold()["rows"]["wires"][0]["id"]
    case.keeps(f"wires/{wire}/advance.before_answered", "all_at_once")
    said = told(case, "before_")
    assert said.pop("answered") == "all_at_once"
    assert said.pop("sleeve_on") == "no"
    assert set(said.values()) == {"yes"}


def test_who_can_hold_needs_no_second_tap(case):
    opens(case, "Advance")
    taps(case, "read")
    everything = case.page.locator("#who-sheet [data-act=spoken-all]")
    expect(everything).to_be_enabled()
    everything.hover()
    case.page.mouse.down()
    expect(case.page.locator("#who-sheet .spoken-state")).to_contain_text(
        "Every line is answered."
    )
    case.page.mouse.up()
    assert told(case, "before_")["answered"] == "all_at_once"


def test_a_line_shorter_in_sight_than_half_a_second_was_not_shown(case):
    opens(case, "Approach")
    case.page.evaluate(
        "() => { for (let n = 0; n < 9; n += 1) document.querySelector('[data-act=spoken-next]').click(); }"
    )
    expect(case.page.locator(".spoken-list [data-shown]")).to_have_count(1)
    expect(case.page.locator("#who-sheet [data-act=spoken-all]")).to_be_disabled()
