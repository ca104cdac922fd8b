"""The twelve kinds against rows written by hand, and against what must never be."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.declared import fields_of, vectors
from webapp.catalogue.kinds import check, parse
from webapp.catalogue.moments import wall_moments

READ = vectors("kinds")
FIELDS = fields_of(READ)


def name_of(row: dict[str, Any]) -> str:
    """Return a short name for a row, for the test's id."""
    given_value = row.get("raw", row.get("value"))
    return f"{row['field']}={json.dumps(given_value, ensure_ascii=True)[:60]}"


def asked_with(row: dict[str, Any], *names: str) -> dict[str, Any]:
    """Return the keyword arguments a row sets."""
    return {name: row[name] for name in names if name in row}


@pytest.mark.parametrize("row", READ["parse"], ids=name_of)
def test_typed_text_gives_the_value_written_beside_it(row: dict[str, Any]) -> None:
    settings = asked_with(row, "unit", "today", "zone")
    assert parse(FIELDS[row["field"]], row["raw"], **settings) == row["gives"]


@pytest.mark.parametrize("row", READ["check"], ids=name_of)
def test_a_value_is_judged_as_written_beside_it(row: dict[str, Any]) -> None:
    settings = asked_with(row, "today", "adult")
    verdict = check(FIELDS[row["field"]], row["value"], **settings)
    assert (verdict.state, list(verdict.codes)) == (row["state"], row["codes"])


@pytest.mark.parametrize("row", READ["walls"], ids=lambda r: f"{r['day']} {r['zone']}")
def test_every_moment_a_wall_clock_showed_that_time_is_found(
    row: dict[str, Any],
) -> None:
    # Source of the changes: the European rule (last Sundays of March and October, at
    # 01:00 UTC), the North American (second Sunday of March, first of November, at
    # 02:00), Lord Howe's half hour (first Sundays of April and October, at 02:00).
    day, time, zone = row["day"], tuple(row["time"]), row["zone"]
    assert wall_moments(day, time, zone) == row["gives"]


# A closed list, a photo, a drawing and a row are not typed into a box.
TYPED = ("qty", "date", "moment", "text", "prose", "person")
BOXES = [
    row
    for row in READ["parse"]
    if FIELDS[row["field"]].kind in TYPED and row["gives"] is not None
]


@pytest.mark.parametrize("row", BOXES, ids=name_of)
def test_what_was_typed_into_a_box_is_never_illegal(row: dict[str, Any]) -> None:
    settings = asked_with(row, "unit", "today", "zone")
    value = parse(FIELDS[row["field"]], row["raw"], **settings)
    verdict = check(FIELDS[row["field"]], value, today=row.get("today"))
    assert verdict.state != "illegal"


def test_a_page_of_text_in_a_number_box_is_kept_as_typed() -> None:
    page = "word " * 20_000 + "end"
    value = parse(FIELDS["output"], page)
    assert value == {"as": page, "unit": "mA"}
    assert check(FIELDS["output"], value).codes == ("unreadable",)


def test_a_page_of_text_is_an_answer_in_a_prose_box() -> None:
    page = "word " * 20_000 + "end"
    assert parse(FIELDS["note"], page) == page
    assert check(FIELDS["note"], page).state == "ok"


def test_a_problem_names_the_field_and_what_was_typed() -> None:
    (problem,) = check(FIELDS["output"], {"as": "1e3", "unit": "mA"}).problems
    assert problem.field == "output"
    assert "Output" in problem.message
    assert "1e3" in problem.message


def test_a_problem_in_a_row_names_the_child() -> None:
    row = {"drug": "x", "dose": {"as": "abc", "unit": "mg"}}
    (problem,) = check(FIELDS["drugs_given"], row).problems
    assert problem.field == "drugs_given.dose"


decimals = st.decimals(
    allow_nan=False, allow_infinity=False, places=6, min_value=-(10**9), max_value=10**9
)


@given(decimals, st.sampled_from([".", ","]), st.sampled_from(["", " ", "\t"]))
def test_a_decimal_keeps_its_exact_value(
    number: Decimal, sign: str, blank: str
) -> None:
    typed = blank + format(number, "f").replace(".", sign) + blank
    value = parse(FIELDS["axis"], typed)
    # Source of the expected value: Python's own decimal arithmetic.
    assert Decimal(value["n"]) == number
    assert value["as"] == typed


@given(st.text(max_size=200))
def test_no_typed_text_is_lost_or_breaks_the_parser(text: str) -> None:
    for field in FIELDS.values():
        value = parse(field, text, today="2031-11-24", zone="Europe/Oslo")
        verdict = check(field, value, today="2031-11-24")
        assert verdict.state in ("ok", "soft", "impossible", "absent", "illegal")
        if field.kind == "qty" and value is not None:
            assert value["as"] == text.replace("\r\n", "\n").replace("\r", "\n")


KEYS = (
    *("as", "n", "unit", "absent", "because", "day", "utc", "certainty", "date"),
    *("other", "person", "name", "strokes", "drug", "of", "dose"),
)
json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(KEYS) | st.text(max_size=4),
            inner,
            max_size=6,
        )
    ),
    max_leaves=12,
)


@given(json_values)
def test_any_json_value_gets_a_verdict(value: Any) -> None:
    for field in FIELDS.values():
        verdict = check(field, value, today="2031-11-24")
        assert verdict.state in ("ok", "soft", "impossible", "absent", "illegal")


@given(st.booleans() | st.integers() | st.floats() | st.none())
def test_a_bare_json_number_or_truth_is_never_a_value(value: Any) -> None:
    for field in FIELDS.values():
        assert check(field, value).state == "illegal"
