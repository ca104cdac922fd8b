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
