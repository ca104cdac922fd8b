"""The remarks of the eight demo cases, so that a change of any is seen.

A clean adult case shows at most `look_again_clean_case_max` Look again and no Look now.
"""

from __future__ import annotations

from collections import Counter

import pytest

from tests.support.records import FIXTURES
from webapp.catalogue import CATALOGUE
from webapp.clinical.case_remarks import case_remarks
from webapp.clinical.found import Found
from webapp.clinical.policy import load
from webapp.record.case import Case
from webapp.record.fold import Opened, fold
from webapp.record.streams import read_stream
from webapp.record.writer import body_of

POLICY = load()
CLEAN = "1-clean-emergency"
# As they stand when the last entry of the file is in.
EXPECTED: dict[str, list[str]] = {
    "1-clean-emergency": [
        "look_again anaesthetic_expect_less",
        "fits margin_holds (put right)",
        "fits clean_test (put right)",
        "fits tier_acceptable (put right)",
    ],
    "2-name-not-known-a": [
        "look_now dilator_before_proof",
        "look_again potassium_is_high",
        "look_again impossible_weight",
        "look_again temperature_unit",
        "look_again barrier_not_full",
        "look_again left_bundle_not_known (put right)",
        "look_again handover_open",
        "fits kit_fits",
        "fits depth_fits",
        "fits margin_at_least",
    ],
    "2-name-not-known-b": [
        "look_again atropine_no_total",
    ],
    "3-complication": [
        "look_again anaesthetic_expect_less",
        "look_again rate_below_own (put right)",
        "fits margin_holds (put right)",
        "fits clean_test (put right)",
        "fits tier_acceptable (put right)",
    ],
    "4-planned": [
        "look_again sedation_unobserved (put right)",
        "fits anaesthetic_within",
        "fits kit_fits",
        "fits depth_fits",
        "fits margin_at_least",
    ],
    "5-half-entered": [
        "look_again potassium_mmol_l",
        "look_again atropine_at_least",
        "look_again bracket_wide",
        "look_again unclear_inside",
        "look_again test_settings_left",
        "fits kit_fits",
        "fits depth_fits",
        "fits contact",
        "fits tier_acceptable",
    ],
    "6-given-up": [
        "look_now resistance (put right)",
        "look_now too_deep_coil (put right)",
        "look_now coil (put right)",
        "look_again potassium_is_high",
        "look_again no_capture_up_to (put right)",
        "fits anaesthetic_within",
    ],
    "7-newborn": [
        "look_again anaesthetic_expect_less",
        "fits kit_fits",
        "fits margin_at_least",
    ],
    "8-two-answers-a": [
        "look_again anaesthetic_expect_less",
        "look_again test_settings_left",
        "look_again handover_open",
        "fits kit_fits",
        "fits depth_fits",
        "fits contact",
        "fits clean_test",
        "fits tier_good",
    ],
    "8-two-answers-b": [],
}


def found_in(name: str) -> tuple[Found, ...]:
    drafts = read_stream(FIXTURES / "demo" / f"{name}.json").drafts
    opened = [Opened(d.id, "A", n, body_of(d)) for n, d in enumerate(drafts, 1)]
    return case_remarks(Case(fold(opened), CATALOGUE).fold, POLICY)


def listed(found: Found) -> str:
    put_right = "" if found.stands else " (put right)"
    return f"{found.remark.weight} {found.remark.code}{put_right}"


def test_every_demo_case_is_listed():
    files = sorted(file.stem for file in (FIXTURES / "demo").glob("*.json"))
    assert files == sorted(EXPECTED)


@pytest.mark.parametrize("name", EXPECTED)
def test_a_demo_case_gives_exactly_the_remarks_listed(name):
    assert [listed(one) for one in found_in(name)] == EXPECTED[name]


def test_the_clean_adult_case_has_few_look_again_and_no_look_now():
    weights = Counter(one.remark.weight for one in found_in(CLEAN))
    most = int(POLICY.rows["look_again_clean_case_max"].value)
    assert weights["look_now"] == 0
    assert weights["look_again"] <= most
