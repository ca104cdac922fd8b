"""Every hand-worked example, with its source beside it, through the functions."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.support.clinical_calls import call
from tests.support.clinical_vectors import agrees, worked

ALL = [
    pytest.param(case, id=f"{name}: {case['name']}")
    for name, cases in worked().items()
    for case in cases
]


@pytest.mark.parametrize("case", ALL)
def test_the_example_comes_out_as_worked_by_hand(case: dict[str, Any]) -> None:
    found = call(case["function"], case["input"])
    assert agrees(found, case["expect"]), json.dumps(found, indent=1)


@pytest.mark.parametrize("name", worked())
def test_each_example_names_its_source_and_its_working(name: str) -> None:
    told = worked()[name]
    assert all(case["source"] and case["why"] for case in told)
    assert len({case["name"] for case in told}) == len(told)
