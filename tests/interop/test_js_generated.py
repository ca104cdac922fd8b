"""Thousands of generated texts, values and conditions: server and tablet agree.

Hypothesis makes the cases; each batch is one node process.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.support import node
from tests.support.declared import fields_of, vectors
from tests.support.unmarked import unmarked
from webapp.catalogue.export import field_as_dict
from webapp.catalogue.kinds import check, parse
from webapp.catalogue.when import holds
from webapp.catalogue.words import words

KINDS = vectors("kinds")
FIELDS = fields_of(KINDS)
PLAIN = {key: field_as_dict(field) for key, field in FIELDS.items()}
WHEN = vectors("when")
TODAY = "2031-11-24"
ZONES = (
    *("Europe/Oslo", "America/Toronto", "UTC", "Asia/Kathmandu", "Pacific/Auckland"),
    *("Australia/Lord_Howe", "Pacific/Kiritimati", "America/St_Johns", "Europe/Nope"),
)

fields = st.sampled_from(sorted(FIELDS))
numbers = st.builds(
    "{}{}{}{}".format,
    st.sampled_from(["", "", "", "-", "−", "<", "> ", "≥", "+"]),
    st.sampled_from(["", "0", "1", "20", "007", "140", "٢٠", "9999", "38"]),
    st.sampled_from(["", "", ".", ",", "٫"]),
    st.sampled_from(["", "0", "5", "50", "05", "125", "٥"]),
)
units_said = st.sampled_from(["", " mA", " kg", "°C", " F", " mg/dL", "/min", " mmHg"])
amounts = st.builds(
    "{}{}{}".format, numbers, st.sampled_from(["", "-", " to "]), numbers
)
figures = st.integers(0, 32)
months = st.sampled_from(["1", "02", "12", "13", "Feb", "May", "sept", "0"])
years = st.sampled_from(["2031", "1954", "2000", "54", "31", "32", "1899", "0954"])
signs = st.sampled_from([".", "/", "-", " ", ". "])
dates = st.builds("{0}{3}{1}{3}{2}".format, figures, months, years, signs)
# Around the clock changes of 2031: last Sundays of March and October in Europe,
# second Sunday of March and first of November in America, first Sundays of April and
# October and last of September in the south.
days = st.sampled_from(
    (
        *("30.3.2031", "26.10.2031", "9.3.2031", "2.11.2031", "6.4.2031"),
        *("5.10.2031", "28.9.2031", "29.2.2032", "24.11.2031", "31.12.2199"),
    )
)
hours = st.builds(
    "{}{}:{:02}{}".format,
    st.sampled_from(["", "", "about ", "~"]),
    st.integers(0, 4) | st.integers(0, 25),
    st.sampled_from([0, 1, 29, 30, 31, 59, 60]),
    st.sampled_from(
        ["", "", ":07", " +01:00", " +02:00", "-0500", " -04:00", " +11:00"]
    ),
)
moments = st.builds("{} {}".format, days, hours) | hours
known = st.sampled_from([row["raw"] for row in KINDS["parse"]])
texts = st.one_of(
    *(known, dates, moments, st.text(max_size=12)),
    st.builds(str.__add__, amounts, units_said),
    st.builds(str.__add__, known.map(lambda t: t[:40]), st.text(max_size=3)),
)
values = st.sampled_from([row["value"] for row in KINDS["check"]])
pieces = st.one_of(
    *(st.none(), st.booleans(), st.integers(-5, 9), st.text(max_size=4)),
    st.sampled_from(["1.5", "0", "-2", "2031-11-24", "not_known", "about", "x" * 64]),
)


@st.composite
def spoilt(draw: st.DrawFn) -> Any:
    """Return a value of the vectors with one piece taken out, put in or changed."""
    value = draw(values)
    if not isinstance(value, dict) or not value:
        return draw(st.one_of(pieces, st.just(value), st.lists(pieces, max_size=2)))
    key = draw(st.sampled_from(sorted(value)))
    change = draw(st.sampled_from(["out", "in", "change", "none"]))
    if change == "out":
        return {k: v for k, v in value.items() if k != key}
    if change == "in":
        return {**value, draw(st.sampled_from(["x", "absent", "n", "unit"])): 1}
    return {**value, key: draw(pieces)} if change == "change" else value


conditions = st.recursive(
    st.sampled_from([row["when"] for row in WHEN["rows"] + WHEN["paths"]]),
    lambda inner: (
        st.builds(lambda parts: {"all": parts}, st.lists(inner, max_size=3))
        | st.builds(lambda parts: {"any": parts}, st.lists(inner, max_size=3))
        | st.builds(lambda part: {"not": part}, inner)
    ),
    max_leaves=5,
)


def generated(count: int, strategy: st.SearchStrategy[Any]) -> list[Any]:
    """Return at least `count` examples of a strategy."""
    made: list[Any] = []

    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(strategy)
    def collect(example: Any) -> None:
        made.append(example)

    collect()
    assert len(made) >= count
    return made


def compare(here: Callable[..., Any], function: str, cases: list[list[Any]]) -> None:
    """Fail with the first cases on which the server and the tablet differ."""
    there = node.call("./reading.mjs", function, cases)
    told = [(case, unmarked(here(*case))) for case in cases]
    pairs = zip(told, there, strict=True)
    wrong = [(case, one, got) for (case, one), got in pairs if one != unmarked(got)]
    assert wrong[:3] == []


def judged_here(field: dict[str, Any], value: Any, setting: dict[str, str]) -> Any:
    """Return what the server says of a value, in the tablet's shape."""
    declared = FIELDS[field["name"]]
    verdict = check(declared, value, today=setting["today"])
    problems = [
        {"field": p.field, "code": p.code, "message": p.message}
        for p in verdict.problems
    ]
    told = words(declared, value, setting["today"])
    kept = {"state": verdict.state, "problems": problems}
    return {"verdict": kept, "words": told}


def typed_here(
    field: dict[str, Any], raw: str, unit: str | None, setting: dict[str, str]
) -> Any:
    """Return what the server makes of typed text, in the tablet's shape."""
    declared = FIELDS[field["name"]]
    value = parse(declared, raw, unit, **setting)
    return {"value": value, **judged_here(field, value, setting)}


def test_two_thousand_typed_texts_mean_the_same_on_both_sides() -> None:
    units = st.sampled_from([None, "", "mA", "mg/dL"])
    drawn = generated(2000, st.tuples(fields, texts, units, st.sampled_from(ZONES)))
    cases = [
        [PLAIN[key], raw, unit, {"today": TODAY, "zone": zone}]
        for key, raw, unit, zone in drawn
    ]
    compare(typed_here, "typed", cases)


def test_two_thousand_clock_times_are_the_same_moment_on_both_sides() -> None:
    drawn = generated(2000, st.tuples(moments | dates, st.sampled_from(ZONES)))
    cases = [
        [PLAIN["puncture"], raw, None, {"today": TODAY, "zone": zone}]
        for raw, zone in drawn
    ]
    compare(typed_here, "typed", cases)


def test_two_thousand_spoilt_values_are_judged_the_same_on_both_sides() -> None:
    drawn = generated(2000, st.tuples(fields, spoilt()))
    cases = [[PLAIN[key], value, {"today": TODAY}] for key, value in drawn]
    compare(judged_here, "judged", cases)


def test_two_thousand_conditions_hold_the_same_on_both_sides() -> None:
    drawn = generated(2000, conditions)
    answers = WHEN["answers"]
    nothing: dict[str, Any] = {"values": [], "ids": [], "rows": []}

    def holds_here(condition: dict[str, Any], known: dict[str, Any]) -> list[Any]:
        return list(holds(condition, lambda p: {**nothing, **known.get(p, {})}))

    compare(holds_here, "holdsIn", [[condition, answers] for condition in drawn])
