"""Who a record is about, and who did it, in the words that head its pages."""

from __future__ import annotations

from webapp.record.case import Case

NAMELESS = "NAME NOT KNOWN"


def who_words(case: Case) -> str:
    """Return the name as it heads every page; the alias when there is none."""
    family = case.answer("patient.family_name")
    given = case.answer("patient.given_name")
    name = ", ".join(a.words for a in (family, given) if a.heads and is_told(a.state))
    if name:
        return name
    alias = case.answer("patient.alias")
    return f"{NAMELESS}, {alias.words}" if alias.is_answered else NAMELESS


def operators(case: Case) -> str:
    """Return the operators named in the record, comma between."""
    people = case.rows("patient.people")
    named = [r.get("person") for r in people if r.get("role") == "operator"]
    return ", ".join(p["name"] for p in named if isinstance(p, dict) and "name" in p)


def is_told(state: str) -> bool:
    """Tell whether an answer of this state says something to be shown."""
    return state in ("answered", "two_answers", "impossible")
