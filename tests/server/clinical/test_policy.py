"""Limits: the shipped table, what start refuses, and what a hospital may change."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from webapp.clinical import policy
from webapp.clinical.policy import exported, load
from webapp.clinical.policy_rows import WORDS, UnusablePolicy, read_rows

# Default, allowed range and ages by key, as clinical section 24 lists them.
TABLE = {
    "sheath_over_wire_max_fr": ("1", "0", "3", "all"),
    "balloon_volume_max_ml": ("1.5", "0.5", "3", "adult"),
    "balloon_clear_of_sheath_cm": ("5", "0", "15", "adult"),
    "deep_limit_cm.neck_right": ("45", "30", "100", "adult"),
    "deep_limit_cm.neck_left": ("50", "30", "100", "adult"),
    "deep_limit_cm.subclavian_right": ("45", "30", "100", "adult"),
    "deep_limit_cm.subclavian_left": ("47", "30", "100", "adult"),
    "deep_limit_cm.femoral": ("65", "30", "100", "adult"),
    "deep_limit_cm.arm_right": ("70", "30", "100", "adult"),
    "deep_limit_cm.arm_left": ("80", "30", "100", "adult"),
    "coil_advance_without_change_cm": ("15", "10", "20", "adult"),
    "own_rhythm_minimum_per_min": ("30", "20", "60", "adult"),
    "rate_above_own_per_min": ("10", "5", "30", "all"),
    "margin_shown_factor": ("2.0", "1.5", "3", "all"),
    "test_coarse_above_ma": ("2", "0.5", "10", "all"),
    "test_coarse_ratio": ("2/3", "1/2", "9/10", "all"),
    "test_fine_step_ma": ("0.2", "0.1", "1", "all"),
    "bracket_wide_ma": ("0.3", "0.1", "1", "all"),
    "threshold_good_ma": ("1.0", "0.3", "10", "adult"),
    "threshold_acceptable_ma": ("2.0", "0.3", "10", "adult"),
    "threshold_marginal_ma": ("3.0", "0.3", "10", "adult"),
    "threshold_margin_target": ("2.5", "1.5", "5", "all"),
    "threshold_margin_floor": ("2.0", "1", "4", "all"),
    "margin_if_dependent": ("3", "2", "5", "all"),
    "output_minimum_ma": ("2", "0.1", "10", "adult"),
    "margin_high_multiple": ("5", "3", "20", "all"),
    "threshold_stale_h": ("24", "4", "72", "all"),
    "need_review_h": ("48, 72", "12", "168", "all"),
    "atropine_child_single_mg": ("0.1, 0.5", "0.1", "0.5", "under 12"),
    "atropine_adolescent_total_mg": ("2", "1", "3", "12 to 17"),
    "adult_from_years": ("18", "14", "21", "all"),
}

REFUSED = {
    "a floor below 1": ({"threshold_margin_floor": "0.9"}, "threshold_margin_floor"),
    "a target below the floor": (
        {"threshold_margin_target": "1.9"},
        "threshold_margin_target is below",
    ),
    "a floor above the target": (
        {"threshold_margin_floor": "2.6"},
        "threshold_margin_target is below",
    ),
    "a dependent multiple below the floor": (
        {"threshold_margin_floor": "2.5", "margin_if_dependent": "2"},
        "margin_if_dependent is below",
    ),
    "a minimum below 0.1": ({"output_minimum_ma": "0.05"}, "output_minimum_ma"),
    "tiers out of order": ({"threshold_good_ma": "2.5"}, "ascending order"),
    "an empty loss card": ({"capture_lost_card": "  \n"}, "capture_lost_card is empty"),
    "an empty list of patterns": (
        {"identity_refuse_patterns": ""},
        "identity_refuse_patterns is empty",
    ),
    "a value above its range": (
        {"coil_advance_without_change_cm": "21"},
        "outside what is allowed, 10 to 20",
    ),
    "a value below its range": (
        {"deep_limit_cm.neck_right": "29.9"},
        "outside what is allowed, 30 to 100",
    ),
    "one of several out of range": (
        {"need_review_h": "48, 200"},
        "outside what is allowed",
    ),
    "several out of order": ({"removal_watch_min": "60, 15"}, "not ascending"),
    "a range of one": (
        {"torsades_overdrive_range_per_min": "100"},
        "takes two numbers",
    ),
    "a row without source word": (
        {
            "threshold_margin_floor": {
                "value": "2.5",
                "source": "local guide",
                "word": "",
            }
        },
        "needs a source",
    ),
    "a source word nobody knows": (
        {"threshold_margin_floor": {"value": "2.5", "source": "x", "word": "certain"}},
        "needs a source",
    ),
    "a source that is empty": (
        {"threshold_margin_floor": {"value": "2.5", "source": " "}},
        "needs a source",
    ),
    "a key nobody knows": (
        {"threshold_margin_flor": "2.5"},
        "no limit is called threshold_margin_flor",
    ),
    "a binary fraction": ({"threshold_margin_floor": 2.5}, "takes text"),
    "a truth value": ({"threshold_margin_floor": True}, "takes text"),
    "a word for a number": ({"threshold_margin_floor": "two"}, "is no number"),
    "an exponent": ({"threshold_margin_floor": "2e0"}, "is no number"),
    "a ratio where decimals are meant": (
        {"threshold_margin_target": "7/3"},
        "is no number",
    ),
    "a changed meaning": (
        {"threshold_margin_floor": {"value": "2.5", "unit": "mA"}},
        "can be changed",
    ),
}


def test_the_shipped_limits_are_those_of_the_table() -> None:
    rows = load().rows
    found = {key: (r.value, r.low, r.high, r.ages) for key, r in rows.items()}
    assert {key: found[key] for key in TABLE} == TABLE


def test_every_shipped_limit_has_meaning_source_and_word() -> None:
    rows = load().rows
    assert len(rows) == 81
    assert all(
        row.meaning and row.source and row.word in WORDS for row in rows.values()
    )


@pytest.mark.parametrize(("given", "said"), REFUSED.values(), ids=REFUSED)
def test_start_refuses(given, said) -> None:
    with pytest.raises(UnusablePolicy, match=said):
        load(given)


def test_a_minimum_above_the_generator_s_maximum_is_refused() -> None:
    with pytest.raises(UnusablePolicy, match="above the generator's maximum, 5 mA"):
        load({"output_minimum_ma": "6"}, generator_maximum_ma="5")


def test_a_shipped_file_with_a_row_without_source_is_refused() -> None:
    told = (
        'version = "1"\n[x]\nmeaning = "x"\nvalue = "1"\nages = "all"\nword = "found"'
    )
    with pytest.raises(UnusablePolicy, match="x has no source"):
        read_rows(told)


def test_a_shipped_file_without_version_is_refused() -> None:
    with pytest.raises(UnusablePolicy, match="no version"):
        read_rows("")


def test_a_change_is_named_beside_what_was_shipped() -> None:
    changed = load(
        {"deep_limit_cm": {"neck_right": "44"}, "threshold_margin_target": "3"}
    )
    told = {(d.key, d.shipped, d.here, d.unit, d.source) for d in changed.differences}
    assert told == {
        ("deep_limit_cm.neck_right", "45", "44", "cm", "this hospital"),
        ("threshold_margin_target", "2.5", "3", "1", "this hospital"),
    }


def test_an_override_that_changes_nothing_is_no_difference() -> None:
    assert load({"threshold_margin_target": "2.5"}).differences == ()


def test_a_whole_number_may_be_written_without_quotes() -> None:
    assert load({"margin_high_multiple": 4}).rows["margin_high_multiple"].value == "4"


def test_the_version_changes_with_the_values_and_only_with_them() -> None:
    plain, one = load(), load({"threshold_margin_target": "3"})
    again = load({"threshold_margin_target": {"value": "3", "source": "guide 2031"}})
    other = load({"threshold_margin_target": "3.5"})
    assert plain.version == policy.VERSION
    assert one.version == again.version
    assert len({plain.version, one.version, other.version}) == 3


def test_loading_twice_never_leaks_one_hospital_s_values_into_another() -> None:
    load({"threshold_margin_target": "3"})
    assert load().rows["threshold_margin_target"].value == "2.5"


def test_limits_cannot_be_changed_once_loaded() -> None:
    loaded = load()
    with pytest.raises(FrozenInstanceError):
        loaded.version = "2"
    with pytest.raises(TypeError):
        loaded.rows["x"] = loaded.rows["threshold_margin_floor"]


def test_a_child_gets_no_adult_row() -> None:
    loaded = load()
    adult, child = loaded.limits(is_adult=True), loaded.limits(is_adult=False)
    only_adult = {key for key, row in loaded.rows.items() if row.ages == "adult"}
    assert set(adult) - set(child) == only_adult & set(adult)
    assert "threshold_good_ma" not in child
    assert "output_minimum_ma" not in child


def test_the_tablet_gets_numbers_as_text_with_their_source() -> None:
    told = exported(load())
    assert told["rows"]["threshold_margin_floor"] == {
        "value": "2.0",
        "shown": "2.0 ×",
        "unit": "1",
        "ages": "all",
        "meaning": "Lowest margin that holds",
        "source": "LITFL; CICM 2013 question 29 (derangedphysiology.com)",
        "word": "found",
    }
    assert "Output to maximum" in told["card"]
    assert all(isinstance(r["value"], str) for r in told["rows"].values())


def test_the_tablet_gets_the_codes_that_are_no_wristband() -> None:
    told = exported(load({"identity_refuse_patterns": ["^LOT"]}))
    assert told["no_bands"] == ["^LOT"]
    assert "^=" in exported(load())["no_bands"]


def test_the_loss_card_says_balloon_down_before_any_pulling_back() -> None:
    card = load().rows["capture_lost_card"].value
    assert card.index("balloon down") < card.index("pulling back")
