"""What is computed on the tablet equals what is computed on the server."""

from __future__ import annotations

from pathlib import Path
from time import monotonic
from typing import Any

import pytest

from tests.support.clinical_calls import CALLS, Input, call
from tests.support.clinical_drawn_calls import Near
from tests.support.clinical_drawn_records import Drawn
from tests.support.clinical_generated import Generated
from tests.support.clinical_in_one import InOne
from tests.support.clinical_node import functions_run, in_node
from tests.support.clinical_vectors import worked

ROOT = Path(__file__).resolve().parents[2]


def vectors() -> list[tuple[str, Input]]:
    told = worked().values()
    return [(case["function"], case["input"]) for cases in told for case in cases]


def differences(calls: list[tuple[str, Input]]) -> list[dict[str, Any]]:
    """Return the calls whose results differ, with both results."""
    found = in_node(calls)
    assert len(found) == len(calls)
    return [
        {"function": name, "input": given, "python": here, "tablet": there}
        for (name, given), there in zip(calls, found, strict=True)
        if (here := call(name, given)) != there
    ]


def test_every_worked_example_is_the_same_on_the_tablet() -> None:
    assert differences(vectors()) == []


def test_five_thousand_inputs_of_every_function_are_the_same_on_the_tablet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    began, gathered = monotonic(), InOne(tmp_path)
    drawn, told = Drawn(20311124), Generated(7316)
    for _ in range(5000):
        gathered.add("whole_record", drawn.record())
    for function in CALLS:
        near = Near(function, 7316)
        for _ in range(max(150, 5000 - gathered.counts[function])):
            gathered.add(function, near.call())
    for function, given in Generated(20311124).calls(3000):
        gathered.add(function, given)
    for _ in range(600):
        gathered.add("threshold_summary", told.told())
    assert gathered.differences() == []
    assert {f for f in CALLS if gathered.counts[f] < 5000} == set()
    with capsys.disabled():
        seconds = round(monotonic() - began)
        print(f"\n{dict(gathered.counts)}: all equal, {seconds} s")


def test_the_worked_examples_run_every_function_of_every_module(
    tmp_path, monkeypatch
) -> None:
    monkeypatch.setenv("NODE_V8_COVERAGE", str(tmp_path))
    in_node(vectors())
    ran = functions_run(tmp_path)
    files = {p.name for p in (ROOT / "static" / "js" / "clinical").glob("*.js")}
    assert set(ran) == {name for name in files if not name.startswith("types")}
    idle = {
        f"{name}: {f}" for name, told in ran.items() for f, n in told.items() if not n
    }
    assert idle == set()
