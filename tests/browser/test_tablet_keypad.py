"""The keypad beside a number: by finger and by keys, over nothing that must stay seen."""

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside

WEIGHT = "patient.weight"


@pytest.fixture(scope="module")
def touched(standing, second_touch):
    """A phone with a finger."""
    return Bedside(second_touch, standing.url)


@pytest.fixture(scope="module")
def second_touch(shell, tmp_path_factory):
    """A browser of a phone's size that is touched."""
    made = shell.browser(
        tmp_path_factory.mktemp("touch") / "profile",
        viewport={"width": 390, "height": 844},
        has_touch=True,
    )
    yield made
    made.close()


@pytest.fixture
def finger(touched):
    touched.goes_home()
    touched.starts_new()
    return touched


@pytest.fixture
def case(bedside):
    bedside.starts_new()
    return bedside


def taps(root, *keys):
    for name in keys:
        root.locator(f".keypad [data-key='{name}']").tap()


def test_a_finger_on_a_number_opens_the_keypad_and_no_other_keyboard(finger):
    weight = finger.field("Weight")
    weight.locator(".qty").tap()
    expect(weight.locator(".keypad")).to_be_visible()
    expect(weight.locator(".qty")).to_have_attribute("inputmode", "none")
    taps(weight, "7", "2", ".", "5", "done")
    expect(weight.locator(".keypad")).to_have_count(0)
    finger.keeps(WEIGHT, {"as": "72.5", "n": "72.5", "unit": "kg"})


def test_the_same_digit_twice_at_once_is_twice(finger):
    weight = finger.field("Weight")
    weight.locator(".qty").tap()
    keys = weight.locator(".keypad")
    keys.evaluate(
        """(pad) => {
          const tap = (name) => pad.querySelector(`[data-key='${name}']`).dispatchEvent(
            new MouseEvent("click", { bubbles: true, cancelable: true, detail: 1 }));
          ["1", "1", "0"].forEach(tap);
        }"""
    )
    expect(weight.locator(".qty")).to_have_value("110")
    taps(weight, "back", "back")
    expect(weight.locator(".qty")).to_have_value("1")


def test_signs_and_words_are_written_by_the_keypad(finger):
    finger.goes_to("Indication")
    rate = finger.field("Escape rate")
    rate.locator(".qty").tap()
    taps(rate, "3", "0", "–", "3", "5", "done")
    finger.says("Escape rate", "kept")
    assert finger.value("indication.escape_rate")["as"] == "30–35"
    finger.adds("Skin pacing")
    output = finger.page.locator("#sheet [data-child='output']")
    output.locator(".qty").tap()
    taps(output, "maximum")
    expect(output.locator(".qty")).to_have_value("maximum")
    finger.page.get_by_role("button", name="Discard").click()


def test_what_the_keypad_lacks_is_written_on_the_tablets_own_keyboard(finger):
    weight = finger.field("Weight")
    weight.locator(".qty").tap()
    taps(weight, "letters")
    expect(weight.locator(".keypad")).to_have_count(0)
    expect(weight.locator(".qty")).to_have_attribute("inputmode", "text")
    expect(weight.locator(".qty")).to_be_focused()


STAYS = ("#case-strip .who", "#stand", "#rail", "#kept")


@pytest.mark.parametrize(
    "part", ["Patient", "Indication", "Advance", "Capture", "Finish"]
)
def test_the_keypad_covers_nothing_that_must_stay_seen_and_moves_no_key(finger, part):
    finger.goes_to(part)
    page = finger.page
    moved = page.evaluate(
        """async (stays) => {
          const wrong = [];
          const boxes = () => [...document.querySelectorAll(".part:not([hidden]) :is(.key, .choice)")]
            .filter((key) => !key.closest(".keypad") && key.offsetParent)
            .map((key) => [key.offsetLeft, key.offsetTop].join());
          const part = document.querySelector(".part:not([hidden])");
          for (const opener of part.querySelectorAll(".keypad-key")) {
            if (!opener.offsetParent) continue;
            opener.scrollIntoView({ block: "center" });
            const before = boxes();
            opener.click();
            const pad = part.querySelector(".keypad").getBoundingClientRect();
            const shown = document.querySelector("#work").getBoundingClientRect();
            const box = opener.parentElement.querySelector(".qty").getBoundingClientRect();
            const seen = part.getBoundingClientRect();
            if (box.top < seen.top || box.bottom > seen.bottom || (pad.top < box.bottom && pad.bottom > box.top))
              wrong.push(`number not seen: ${opener.ariaLabel}`);
            if (boxes().join("|") !== before.join("|")) wrong.push(`moved: ${opener.ariaLabel}`);
            if (pad.top < shown.top || pad.bottom > shown.bottom + 1 || pad.right > shown.right + 1)
              wrong.push(`cut: ${opener.ariaLabel}`);
            for (const css of stays) {
              const other = document.querySelector(css).getBoundingClientRect();
              if (pad.top < other.bottom && pad.bottom > other.top && pad.left < other.right && pad.right > other.left)
                wrong.push(`${css}: ${opener.ariaLabel}`);
            }
            const small = [...part.querySelectorAll(".keypad .key")].some((key) => key.offsetHeight < 48 || key.offsetWidth < 48);
            if (small) wrong.push(`small: ${opener.ariaLabel}`);
            opener.click();
          }
          return wrong;
        }""",
        STAYS,
    )
    assert moved == []


def test_the_keypad_works_by_keys_alone_and_gives_the_focus_back(case):
    page = case.page
    weight = case.field("Weight")
    weight.locator(".qty").focus()
    page.keyboard.press("Tab")
    expect(weight.get_by_role("button", name="keypad: Weight")).to_be_focused()
    page.keyboard.press("Enter")
    expect(weight.locator("[data-key='1']")).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    expect(weight.locator(".keypad")).to_have_count(0)
    expect(weight.locator(".qty")).to_be_focused()
    expect(weight.locator(".qty")).to_have_value("12")
    for _ in range(4):
        page.keyboard.press("Tab")
    case.keeps(WEIGHT, {"as": "12", "n": "12", "unit": "kg"})


def test_a_mouse_or_a_keyboard_on_a_number_opens_nothing(case):
    weight = case.field("Weight")
    weight.locator(".qty").click()
    expect(weight.locator(".keypad")).to_have_count(0)
    expect(weight.locator(".qty")).to_have_attribute("inputmode", "decimal")


def test_a_tap_elsewhere_ends_it_and_keeps_the_number(finger):
    weight = finger.field("Weight")
    weight.locator(".qty").tap()
    taps(weight, "8", "0")
    finger.page.locator("#case-strip .who").tap()
    expect(weight.locator(".keypad")).to_have_count(0)
    finger.field("Height").locator(".qty").tap()
    finger.keeps(WEIGHT, {"as": "80", "n": "80", "unit": "kg"})


def test_a_small_count_is_one_tap_and_only_what_counts_has_its_keys(case):
    case.goes_to("Approach")
    opened = case.field("Guidewires opened")
    opened.get_by_role("button", name="1: Guidewires opened").click()
    case.keeps("approach.guidewires_opened", {"as": "1", "n": "1", "unit": ""})
    expect(opened.locator(".qty")).to_have_value("1")
    assert case.page.locator(".part:visible [data-unit] [data-count]").count() == 0
    case.goes_to("Patient")
    expect(case.field("Weight").locator("[data-count]")).to_have_count(0)


def test_a_small_count_in_a_row_takes_the_place_of_no_answer(case):
    case.goes_to("Approach")
    case.adds("Attempt")
    passes = case.page.locator("#sheet [data-child=passes]")
    passes.locator("input[value='not_known']").first.click()
    passes.locator("[data-count='2']").click()
    case.picks("Outcome", "Vein entered")
    case.keeps_row()
    (row,) = case.rows("approach.attempts")
    assert row["value"]["passes"] == {"as": "2", "n": "2", "unit": ""}
