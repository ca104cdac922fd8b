"""Ages worked out from a birth date; dates by hand from the civil calendar."""

import pytest

from webapp.record.derived import derived


def fold_with(values, utc="2026-05-14T15:26:00.000Z", offset=-300):
    at = {"utc": utc, "offset_min": offset}
    heads = {p: [{"value": v, "entries": ["e"]}] for p, v in values.items()}
    return {"values": heads, "order": ["e"], "entries": {"e": {"at": at}}}


@pytest.mark.parametrize(
    ("born", "years", "days"),
    [
        ("1949-02-03", "77", None),
        ("2008-05-14", "18", None),  # the birthday itself
        ("2008-05-15", "17", None),  # the day before it
        ("2024-02-29", "2", None),
        ("2026-05-01", "0", "13"),
        ("2026-05-14", "0", "0"),
    ],
)
def test_an_age_is_counted_to_the_day_of_the_first_entry(born, years, days):
    fold = fold_with({"patient.birth_date": {"as": born, "date": born}})
    assert derived(fold, "derived.age_years")["n"] == years
    if days is not None:
        assert derived(fold, "derived.age_days")["n"] == days


def test_the_day_is_the_hospitals_own_and_not_utc():
    fold = fold_with(
        {"patient.birth_date": {"as": "x", "date": "2008-05-15"}},
        utc="2026-05-15T03:00:00.000Z",
        offset=-300,
    )
    assert derived(fold, "derived.age_years")["n"] == "17"


@pytest.mark.parametrize(
    ("value", "years", "days"),
    [
        ({"as": "60", "n": "60", "unit": "a"}, "60", None),
        ({"as": "20", "n": "20", "unit": "d"}, "0", "20"),
        ({"as": "50", "n": "50", "unit": "h"}, "0", "2"),
        ({"as": "60-65", "low": "60", "high": "65", "unit": "a"}, None, None),
        ({"as": ">60", "cmp": ">", "n": "60", "unit": "a"}, None, None),
        ({"as": "sixty", "unit": "a"}, None, None),
        ({"absent": "not_known"}, None, None),
    ],
)
def test_an_estimate_counts_only_when_it_is_one_number(value, years, days):
    fold = fold_with({"patient.estimated_age": value})
    for path, expected in (("age_years", years), ("age_days", days)):
        found = derived(fold, f"derived.{path}")
        assert (found["n"] if found else None) == expected


def test_a_birth_date_after_the_case_gives_no_age():
    fold = fold_with({"patient.birth_date": {"as": "x", "date": "2026-05-15"}})
    assert derived(fold, "derived.age_years") is None
