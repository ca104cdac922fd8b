"""A depth called by mistake on Advance, and digits that come as fast as a hand."""

from functools import partial

import pytest
from playwright.sync_api import expect

from tests.support.live_advance import BOXES, told_case

# The hand lies still so long that its next tap is no tremble.
PAST_A_TREMBLE = """() => {
  window.stillFrom ??= performance.now();
  const isPast = performance.now() - window.stillFrom > 400;
  if (isPast) delete window.stillFrom;
  return isPast;
}"""


@pytest.fixture
def advance(bedside):
    """Advance of an adult, nothing read yet."""
    years = {"as": "77", "n": "77", "unit": "a"}
    return told_case(bedside, estimated_age=years)


@pytest.mark.parametrize("way", ["touch", "keyboard"])
def test_a_depth_called_by_mistake_is_taken_back_by_the_same_key(advance, way):
    key, line = advance.key("depth-16"), advance.page.locator(".adv-ask")
    strikes = key.click if way == "touch" else partial(key.press, "Enter")
    strikes()
    expect(line).to_have_text("What is seen at 16 cm? Tap 16 again to take it back.")
    expect(key).to_have_accessible_name("16 cm, called; once more takes it back")
    before = advance.page.evaluate(BOXES)
    # A second tap sooner is a tremble.
    advance.page.wait_for_function(PAST_A_TREMBLE)
    strikes()
    expect(line).to_have_text("Taken back, not kept. Depth, then what is seen.")
    expect(key).to_have_accessible_name("16 cm")
    expect(key).to_have_attribute("aria-pressed", "false")
    expect(advance.page.locator(".adv-depth")).to_contain_text("–")
    assert advance.page.evaluate(BOXES) == before
    advance.taps("result-mid_ra")
    expect(line).to_contain_text("Depth first")
    assert advance.kept() == []


def test_a_typed_depth_is_taken_back_by_other(advance):
    advance.taps("depth-other", "digit-3", "digit-3")
    line = advance.page.locator(".adv-ask")
    expect(line).to_have_text("What is seen at 33 cm? Tap other to take it back.")
    advance.page.wait_for_function(PAST_A_TREMBLE)
    advance.taps("depth-other")
    expect(advance.page.locator(".adv-depth [data-called]")).to_contain_text("··")
    advance.page.wait_for_function(PAST_A_TREMBLE)
    advance.taps("depth-other")
    expect(advance.page.locator(".adv-depth [data-called]")).to_have_count(0)
    assert advance.kept() == []


# Both taps within one task: no hand is quicker.
AT_ONCE = """(acts) => acts.forEach((act) => {
  const key = document.querySelector(`#panel [data-act="${act}"]`);
  key.dispatchEvent(new MouseEvent("click", { bubbles: true, detail: 1 }));
})"""


def test_a_digit_however_soon_after_its_pad_is_taken(advance):
    acts = ["depth-other", "digit-3", "digit-3"]
    advance.page.evaluate(AT_ONCE, acts)
    expect(advance.page.locator(".adv-depth [data-called]")).to_contain_text("33")
    # A result that came under the last digit was not aimed at.
    advance.page.evaluate(AT_ONCE, ["result-rv_free"])
    advance.page.wait_for_function(PAST_A_TREMBLE)
    assert advance.kept() == []
    advance.taps("result-rv_free")
    advance.shows("33", "RV free")
    assert advance.kept() == [("33", "rv_free")]
