"""What is found in a published case, as its tests read it; and entries to add to it."""

from __future__ import annotations

from typing import Any

from webapp.clinical.case_remarks import case_remarks
from webapp.clinical.found import Found
from webapp.clinical.policy import load
from webapp.clinical.remarks import asks, finding
from webapp.record.case import Case
from webapp.record.questions import open_questions
from webapp.say import SAY

POLICY = load()


def found_in(case: Case) -> tuple[Found, ...]:
    return case_remarks(case.fold, POLICY)


def told(case: Case) -> list[tuple[str, str, bool]]:
    return [
        (finding(one.remark, SAY), one.remark.weight, one.stands)
        for one in found_in(case)
    ]


def asked(case: Case, code: str) -> str:
    """Return what policy asks where this is found, once."""
    [one] = [one for one in found_in(case) if one.remark.code == code]
    return asks(one.remark, SAY)


def standing(case: Case) -> list[str]:
    """Return codes and weights of what stands, heavier first."""
    return [f"{f.remark.weight} {f.remark.code}" for f in found_in(case) if f.stands]


def open_paths(case: Case) -> set[str]:
    return {question.path for question in open_questions(case)}


def says(path: str, op: str = "set", **told: Any) -> dict[str, Any]:
    """Return one more entry of a case, by its treating clinician."""
    value = told["value"] if op == "set" else told
    return {"by": "clinician", "path": path, "op": op, "value": value}


def adds(path: str, **told: Any) -> dict[str, Any]:
    return says(path, "add", **told)


def typed(text: str, unit: str) -> dict[str, str]:
    return {"typed": text, "unit": unit}
