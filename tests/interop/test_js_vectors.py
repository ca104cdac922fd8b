"""The tablet's kinds, conditions and words against the server's, row by row.

One node process a batch. The vector rows are also checked by tests/server/catalogue
against the server alone; here both are held to them and to each other.
"""

from __future__ import annotations

from typing import Any

from tests.support import node
from tests.support.declared import fields_of, vectors
from webapp.catalogue.export import field_as_dict
from webapp.catalogue.kinds import check
from webapp.catalogue.verdicts import Verdict

KINDS = vectors("kinds")
FIELDS = fields_of(KINDS)
PLAIN = {key: field_as_dict(field) for key, field in FIELDS.items()}


def told(verdict: Verdict) -> dict[str, Any]:
    """Return a verdict as the tablet gives it."""
    problems = [
        {"field": p.field, "code": p.code, "message": p.message}
        for p in verdict.problems
    ]
    return {"state": verdict.state, "problems": problems}


def settings(row: dict[str, Any], *names: str) -> dict[str, Any]:
    """Return what a row sets, as the last argument of the tablet's functions."""
    return {name: row[name] for name in names if name in row}


def test_typed_text_gives_the_same_value_on_the_tablet() -> None:
    rows = KINDS["parse"]
    cases = [
        [PLAIN[r["field"]], r["raw"], r.get("unit"), settings(r, "today", "zone")]
        for r in rows
    ]
    given = node.call("form/kinds.js", "parse", cases)
    wrong = [(r, got) for r, got in zip(rows, given, strict=True) if got != r["gives"]]
    assert wrong == []


def test_values_are_judged_the_same_on_the_tablet() -> None:
    rows = KINDS["check"]
    cases = [
        [PLAIN[r["field"]], r["value"], settings(r, "today", "adult")] for r in rows
    ]
    given = node.call("form/kinds.js", "check", cases)
    wrong = []
    for row, got in zip(rows, given, strict=True):
        codes = [p["code"] for p in got["problems"]] if "problems" in got else got
        if (got.get("state"), codes) != (row["state"], row["codes"]):
            wrong.append((row, got))
    assert wrong == []


def test_problems_are_told_in_the_same_words_on_the_tablet() -> None:
    rows = KINDS["check"]
    cases = [
        [PLAIN[r["field"]], r["value"], settings(r, "today", "adult")] for r in rows
    ]
    here = [
        told(check(FIELDS[r["field"]], r["value"], **settings(r, "today", "adult")))
        for r in rows
    ]
    assert node.call("form/kinds.js", "check", cases) == here


def test_clock_changes_are_the_same_on_the_tablet() -> None:
    rows = KINDS["walls"]
    cases = [[r["day"], r["time"], r["zone"]] for r in rows]
    given = node.call("form/moments.js", "wallMoments", cases)
    assert given == [row["gives"] for row in rows]


def test_typed_text_is_kept_apart_the_same_on_the_tablet() -> None:
    rows = vectors("apart")["rows"]
    given = node.call("form/apart.js", "apart", [[row["text"]] for row in rows])
    assert given == [row["shown"] for row in rows]


def test_conditions_hold_on_the_tablet_with_the_same_evidence() -> None:
    read = vectors("when")
    cases = [[row["when"], read["answers"]] for row in read["rows"]]
    given = node.call("./reading.mjs", "holdsIn", cases)
    assert given == [[row["holds"], row["ids"]] for row in read["rows"]]


def test_what_is_not_of_the_language_is_refused_on_the_tablet() -> None:
    read = vectors("when")
    cases = [[condition, read["answers"]] for condition in read["malformed"]]
    given = node.call("./reading.mjs", "holdsIn", cases)
    assert [bool(got["threw"]) for got in given] == [True] * len(cases)


def test_values_are_told_in_the_same_words_on_the_tablet() -> None:
    read = vectors("words")
    fields = {key: field_as_dict(field) for key, field in fields_of(read).items()}
    cases = [[fields[r["field"]], r["value"], r.get("day")] for r in read["rows"]]
    given = node.call("form/words.js", "words", cases)
    assert given == [row.get("apart", row["words"]) for row in read["rows"]]


def test_elapsed_time_and_units_are_told_the_same_on_the_tablet() -> None:
    read = vectors("words")
    told = node.call(
        "form/elapsed.js", "elapsedWords", [[r["seconds"]] for r in read["elapsed"]]
    )
    assert told == [row["words"] for row in read["elapsed"]]
    shown = node.call(
        "form/units.js", "shownUnit", [[r["unit"]] for r in read["units"]]
    )
    assert shown == [row["shown"] for row in read["units"]]
