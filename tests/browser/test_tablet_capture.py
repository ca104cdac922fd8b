"""Numbers of Advance and Capture: drawn from what was read, dashed until read back."""

import pytest
from playwright.sync_api import expect

# V1 of clinical.md: 10 down to 1.0 without capture, 1.2 captures again.
V1 = (
    *((value, "Captures") for value in ("10", "8", "6", "4", "3", "2.0", "1.4", "1.2")),
    ("1.0", "No capture"),
    ("1.2", "Captures"),
)


@pytest.fixture
def case(bedside):
    """A case just begun."""
    bedside.starts_now()
    return bedside


def reads_depth(case, cm, result="RV free", read_at="Sheath hub"):
    """Enter one depth reading from the panel's key."""
    case.page.get_by_role("button", name="Depth reading", exact=True).click()
    case.types("Depth", cm)
    case.picks("Read at", read_at)
    case.picks("Result", result)
    case.keeps_row()


def enters_test(case, readings):
    """Enter one threshold test with its output readings."""
    case.page.get_by_role("button", name="Threshold test", exact=True).click()
    case.picks("Kind of test", "Full test")
    case.keeps_row()
    for output, result in readings:
        case.page.get_by_role("button", name="Add: Output reading").first.click()
        case.types("Dial called", output)
        case.picks("Result", result)
        case.keeps_row()


def numbers(case):
    """The panel's blocks by name, as a screen reader tells them."""
    blocks = case.page.locator("#panel .panel-block").all()
    return {
        block.locator(".panel-ask").inner_text(): " ".join(
            block.locator(".panel-number .spoken, .panel-number b").all_inner_texts()
        ).replace("\u00a0", " ")
        for block in blocks
    }


LONG_DEPTH = "340 mm by the second mark, read twice from the foot of the bed"


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("<36", "< 36 cm"),
        ("340 mm", "340 mm"),
        ("36?", "36?"),
        ("340", "340 cm"),
        (LONG_DEPTH, LONG_DEPTH),
    ],
)
def test_a_last_depth_without_a_figure_stands_in_place_of_the_older(case, typed, shown):
    case.goes_to("Advance")
    reads_depth(case, "34")
    expect(case.page.locator("#panel .panel-number").first).to_contain_text("34")
    expect(case.page.locator("#rope .rope-wire")).not_to_have_count(0)
    reads_depth(case, typed)
    block = case.page.locator("#panel .panel-block").first
    expect(block.locator(".panel-word, .panel-told")).to_have_text(shown)
    # The wire is not drawn to where it was before.
    expect(case.page.locator("#rope .rope-wire")).to_have_count(0)
    case.goes_to("Capture")
    expect(case.page.locator("#case-strip")).to_contain_text(shown)


def test_nothing_read_is_a_dash_and_words_never_nought(case):
    case.goes_to("Advance")
    expect(case.page.locator("#panel")).to_contain_text("no depth read")
    assert numbers(case)["cm at sheath hub"] == "–"
    case.goes_to("Capture")
    expect(case.page.locator("#panel")).to_contain_text("threshold not tested")
    assert set(numbers(case).values()) == {"–"}


def test_the_last_depth_stands_large_with_what_was_seen(case):
    case.goes_to("Advance")
    reads_depth(case, "27", "RV free")
    reads_depth(case, "34", "RV contact (ST up)")
    expect(case.page.locator("#panel .panel-word")).to_have_text("RV contact (ST up)")
    assert "34" in numbers(case)["cm at sheath hub"]
    beads = case.page.locator("#rope .rope-bead")
    expect(beads).to_have_count(2)
    expect(case.page.locator("#rope svg")).to_have_attribute(
        "aria-label", "Depth ruler: 34 cm, 2 readings"
    )


def test_a_struck_depth_leaves_the_ruler_and_stays_in_the_list(case):
    case.goes_to("Advance")
    reads_depth(case, "27")
    reads_depth(case, "43")
    case.page.locator("#kept").get_by_role("button", name="Strike 43 cm").click()
    expect(case.page.locator("#rope .rope-bead")).to_have_count(1)
    assert "27" in numbers(case)["cm at sheath hub"]
    expect(case.page.locator(".panel-list [data-struck]")).to_contain_text("43 cm")


def test_a_depth_not_read_at_the_hub_is_dashed_and_says_so(case):
    case.goes_to("Advance")
    reads_depth(case, "36", read_at="Skin")
    expect(case.page.locator("#panel")).to_contain_text("cm, not read at the hub")
    expect(case.page.locator("#rope .rope-tip")).to_have_attribute("data-not-yet", "")


def test_a_clean_test_gives_threshold_bracket_and_what_policy_asks(case):
    case.goes_to("Capture")
    enters_test(case, V1)
    panel = case.page.locator("#panel")
    expect(panel).to_contain_text("no capture at 1.0")
    told = numbers(case)
    assert told["Threshold"].startswith("1.2")
    # Own rhythm not asked counts as dependent: 3 times 1.2, up to the dial.
    assert told["Policy asks"].startswith("3.6")
    expect(panel.locator("[data-not-yet] .num")).to_have_count(1)
    expect(panel.locator(".stair-captures")).to_have_count(9)
    expect(panel.locator(".stair-none")).to_have_count(1)


def test_the_dial_left_at_is_never_filled_by_what_policy_asks(case):
    case.goes_to("Capture")
    enters_test(case, V1)
    assert numbers(case)["Dial left at"] == "–"
    wire = case.rows("wires")[0]["id"]
    assert case.rows(f"wires/{wire}/capture.dial_left_at") == []


def test_test_settings_stay_in_sight_until_read_back(case):
    case.goes_to("Capture")
    enters_test(case, (("1.2", "Captures"),))
    stand = case.page.locator("#stand")
    expect(stand).to_contain_text("TEST SETTINGS 1.2 mA")
    case.goes_to("Patient")
    expect(stand).to_contain_text("TEST SETTINGS")
    case.reloads()
    expect(stand).to_contain_text("TEST SETTINGS")
    case.goes_to("Capture")
    case.is_now("M. Sogn-Example", "nurse")
    case.page.get_by_role("button", name="Dial left at", exact=True).click()
    case.types("Output", "3")
    case.keeps_row()
    expect(stand).to_contain_text("TEST SETTINGS")
    case.page.get_by_role("button", name="Dial left at", exact=True).click()
    case.types("Output", "3")
    case.types("Rate", "80")
    case.types("Sensitivity", "2")
    case.keeps_row()
    expect(stand).not_to_contain_text("TEST SETTINGS")
    expect(stand).to_contain_text("Generator 3.0 mA, 80 /min")


def test_a_number_cannot_lose_its_point(case):
    """Drawn pixels of 1.0 and 10 differ by more than a quarter of their ink."""
    case.goes_to("Capture")
    counts = case.page.evaluate(
        """async () => {
          const { num } = await import("/static/js/live/num.js");
          const box = document.createElement("div");
          box.className = "panel-number";
          document.querySelector("#panel").append(box);
          const widths = {};
          for (const value of ["1.0", "10", "0.8", "8", "3.0", "30"]) {
            box.replaceChildren(num(value, "mA"));
            const parts = box.querySelectorAll(".num-point, .num-part");
            widths[value] = [...parts].map((part) => {
              const style = getComputedStyle(part);
              return [part.className, part.getBoundingClientRect().width, style.textDecorationLine,
                parseFloat(style.fontSize) / parseFloat(getComputedStyle(box.firstChild).fontSize)];
            });
          }
          box.remove();
          return widths;
        }"""
    )
    for value in ("10", "8", "30"):
        assert counts[value] == []
    for value in ("1.0", "0.8", "3.0"):
        (point, part) = counts[value]
        assert point[0] == "num-point"
        assert point[1] > 10
        assert part[2] == "underline"
        assert part[3] == pytest.approx(0.72)
