"""Every hand-worked example, with its source beside it, through the functions."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.support.clinical_calls import call
from tests.support.clinical_vectors import worked

ALL = [
    pytest.param(case, id=f"{name}: {case['name']}")
    for name, cases in worked().items()
    for case in cases
]


def agrees(found: Any, expected: Any) -> bool:
    """Tell whether all that is expected is found; other keys of an object are free."""
    if isinstance(expected, dict) and isinstance(found, dict):
        found = {**found, **found.get("remark", {})}
        codes = [r["code"] for r in found.get("remarks", [])]
        weights = [r["weight"] for r in found.get("remarks", [])]
        told = {**found, "remark_codes": codes, "weights": weights}
        return all(k in told and agrees(told[k], v) for k, v in expected.items())
    if isinstance(expected, list) and isinstance(found, list):
        pairs = zip(found, expected, strict=False)
        return len(found) == len(expected) and all(agrees(f, e) for f, e in pairs)
    return bool(found == expected)


@pytest.mark.parametrize("case", ALL)
def test_the_example_comes_out_as_worked_by_hand(case: dict[str, Any]) -> None:
    found = call(case["function"], case["input"])
    assert agrees(found, case["expect"]), json.dumps(found, indent=1)


@pytest.mark.parametrize("name", worked())
def test_each_example_names_its_source_and_its_working(name: str) -> None:
    told = worked()[name]
    assert all(case["source"] and case["why"] for case in told)
    assert len({case["name"] for case in told}) == len(told)
