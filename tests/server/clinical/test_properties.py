"""What holds for every threshold test, output and margin, whatever was read.

Source of each property: clinical sections 1, 7, 8 and 27 (fixtures/sources.md).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from webapp.clinical import policy
from webapp.clinical.counted import Reading
from webapp.clinical.dial import Dial, dial_of
from webapp.clinical.exact import decimal, number
from webapp.clinical.margin import Setting, margin
from webapp.clinical.next_output import next_output
from webapp.clinical.output import policy_asks
from webapp.clinical.shown import truncated
from webapp.clinical.threshold import threshold_test

LIMITS = policy.load().limits(is_adult=True)
TABLES: tuple[Any, ...] = (
    None,
    [{"from": "0.1", "to": "20", "step": "0.1"}],
    [{"from": "0.2", "to": "20", "step": "0.2"}],
    [{"from": "1", "to": "25", "step": "0.5"}],
    [
        {"from": "0.1", "to": "1", "step": "0.1"},
        {"from": "1", "to": "5", "step": "0.5"},
        {"from": "5", "to": "20", "step": "1"},
    ],
)
dials = st.sampled_from(TABLES).map(dial_of)
outputs = st.integers(1, 250).map(lambda n: decimal(Fraction(n, 10)))
results = st.sampled_from(("captures", "captures", "no_capture", "cannot_tell"))
readings = st.lists(st.builds(Reading, outputs, results), max_size=14)
captures = st.builds(Reading, outputs, st.just("captures"))


def exact(text: str | None) -> Fraction:
    found = number(text)
    assert found is not None
    return found


def told(readings_: list[Reading], result: str) -> list[Fraction]:
    return [exact(r.output) for r in readings_ if r.result == result]


@given(readings, dials)
def test_a_loss_always_lies_below_the_threshold(
    read: list[Reading], dial: Dial
) -> None:
    found = threshold_test(read, dial, LIMITS)
    if found.threshold is not None:
        assert all(loss < exact(found.threshold) for loss in told(read, "no_capture"))
        assert exact(found.threshold) in told(read, "captures")


@given(readings, dials, outputs)
def test_a_loss_added_below_never_lowers_the_threshold(
    read: list[Reading], dial: Dial, output: str
) -> None:
    before = threshold_test(read, dial, LIMITS)
    base = before.threshold or before.at_most
    after = threshold_test([*read, Reading(output, "no_capture")], dial, LIMITS)
    if base is not None and exact(output) < exact(base) and after.threshold is not None:
        assert exact(after.threshold) >= exact(base)


@given(readings, dials, st.randoms(use_true_random=False))
def test_threshold_and_bracket_do_not_hang_on_the_order(
    read: list[Reading], dial: Dial, chance: Any
) -> None:
    shuffled = list(read)
    chance.shuffle(shuffled)
    one, other = (threshold_test(r, dial, LIMITS) for r in (read, shuffled))
    same = ("threshold", "bracket", "at_most", "none_up_to", "clean", "tier")
    assert [getattr(one, n) for n in same] == [getattr(other, n) for n in same]


@given(readings, dials, st.lists(captures, max_size=3))
def test_a_jump_back_to_a_high_output_changes_nothing(
    read: list[Reading], dial: Dial, jumps: list[Reading]
) -> None:
    before = threshold_test(read, dial, LIMITS)
    if before.threshold is None:
        return
    high = [r for r in jumps if exact(r.output) >= exact(before.threshold)]
    after = threshold_test([*read, *high], dial, LIMITS)
    assert after.threshold == before.threshold
    assert after.bracket == before.bracket


@given(readings, dials)
def test_at_most_one_of_the_three_values_is_given(
    read: list[Reading], dial: Dial
) -> None:
    found = threshold_test(read, dial, LIMITS)
    given_ = [found.threshold, found.at_most, found.none_up_to]
    assert sum(value is not None for value in given_) <= 1
    assert (found.bracket is None) == (found.threshold is None)


@given(readings, dials)
def test_a_dependent_patient_is_never_asked_to_repeat(
    read: list[Reading], dial: Dial
) -> None:
    assert not threshold_test(read, dial, LIMITS, is_dependent=True).may_repeat


@given(readings, dials)
def test_no_remark_is_made_of_a_clean_test_but_of_its_tier(
    read: list[Reading], dial: Dial
) -> None:
    found = threshold_test(read, dial, LIMITS)
    heavy = {r.code for r in found.remarks if r.weight != "fits"}
    if found.clean:
        assert heavy <= {"tier_marginal", "tier_high"}


@given(readings, dials, st.none() | outputs, st.booleans())
def test_after_a_loss_only_upward(
    read: list[Reading], dial: Dial, set_output: str | None, depends: bool
) -> None:
    offer = next_output(read, set_output, dial, LIMITS, depends)
    lost, captured = told(read, "no_capture"), told(read, "captures")
    if offer.output is not None and lost:
        assert exact(offer.output) > max(lost)
        assert not captured or exact(offer.output) >= captured[-1]


@given(readings, dials, outputs)
def test_a_dependent_patient_is_never_offered_less_than_the_margin_shown(
    read: list[Reading], dial: Dial, set_output: str
) -> None:
    offer = next_output(read, set_output, dial, LIMITS, is_dependent=True)
    least = exact(set_output) / 2
    if offer.output is not None:
        assert exact(offer.output) >= min(least, dial.highest)


@given(readings, dials)
def test_without_the_output_set_a_dependent_patient_is_offered_nothing_lower(
    read: list[Reading], dial: Dial
) -> None:
    offer = next_output(read, None, dial, LIMITS, is_dependent=True)
    if not told(read, "no_capture"):
        assert offer.output is None


@given(st.lists(captures, max_size=8), dials, outputs)
def test_while_it_captures_each_offer_is_lower_and_on_the_dial(
    read: list[Reading], dial: Dial, set_output: str
) -> None:
    offer = next_output(read, set_output, dial, LIMITS, is_dependent=False)
    here = exact(read[-1].output) if read else exact(set_output)
    if offer.output is None:
        assert offer.ends == "dial_lowest"
        assert here <= dial.lowest
    else:
        assert exact(offer.output) in dial.positions
        assert exact(offer.output) < here or exact(offer.output) == dial.lowest


@given(outputs, dials, st.booleans(), st.booleans())
def test_the_output_asked_lies_on_the_dial_and_never_above_it(
    threshold: str, dial: Dial, depends: bool, adult: bool
) -> None:
    limits = policy.load().limits(is_adult=adult)
    found = policy_asks(threshold, dial, limits, depends)
    assert exact(found.output) in dial.positions
    factor = 3 if depends else Fraction(5, 2)
    reached = exact(found.output) >= factor * exact(threshold)
    assert reached == (found.capped == "") or exact(found.output) == dial.highest


@given(outputs, dials)
def test_the_output_asked_is_the_lowest_dial_value_that_reaches_it(
    threshold: str, dial: Dial
) -> None:
    found = exact(policy_asks(threshold, dial, LIMITS, is_dependent=False).output)
    wanted = max(Fraction(5, 2) * exact(threshold), Fraction(2))
    lower = dial.below(found)
    assert lower is None or lower < wanted


@given(outputs, outputs, dials, st.booleans())
def test_a_margin_is_cut_never_rounded_and_judged_exactly(
    output: str, threshold: str, dial: Dial, depends: bool
) -> None:
    found = margin(Setting(output), threshold, None, dial, LIMITS, depends)
    held = exact(output) / exact(threshold)
    shown = exact(found.shown.removesuffix(" ×"))
    assert shown <= held < shown + Fraction(1, 10)
    assert (found.verdict == "below_floor") == (held < 2)


@given(st.fractions(0, 1000), st.sampled_from(("0.1", "1", "0.01", "0.5")))
def test_cutting_never_adds(value: Fraction, step: str) -> None:
    cut = exact(truncated(value, step))
    assert cut <= value < cut + exact(step)


@given(st.integers(-(10**12), 10**12), st.integers(0, 6))
def test_a_decimal_reads_back_as_the_same_number(figures: int, places: int) -> None:
    value = Fraction(figures, 10**places)
    assert number(decimal(value)) == value
