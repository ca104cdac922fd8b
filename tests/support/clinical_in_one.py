"""Many inputs through Python, and the same through the tablet's code in one process.

Inputs are written as they are drawn, so that tens of thousands of records need no room.
"""

from __future__ import annotations

import json
import subprocess
from collections import Counter
from typing import Any

from tests.support.clinical_calls import (
    WORDS,
    Input,
    call,
    policy_of,
    told_as_fold,
)
from tests.support.node import CHECKS
from webapp.clinical.case_remarks import AREAS
from webapp.clinical.policy import exported

WHOLE = (*(f"in_{name}" for name in AREAS), "case_remarks", "threshold_summary")


class InOne:
    """Calls gathered for one process. `counts`: inputs by function."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()
        self._policies: dict[str, int] = {}
        self._exported: list[Any] = []
        self._cases: list[str] = []
        self._here: list[str] = []

    def add(self, function: str, given: Input) -> None:
        """Gather one input, with what Python gives for it."""
        given = told_as_fold(given)
        names = WHOLE if function == "whole_record" else (function,)
        found = {name: call(name, given) for name in names}
        self.counts.update(names)
        self._here.append(
            _text(found if function == "whole_record" else found[function])
        )
        told = {k: v for k, v in given.items() if k not in ("policy", "words")}
        self._cases.append(json.dumps([function, told, self._policy(given)]))

    def differences(self, most: int = 3) -> list[dict[str, Any]]:
        """Run the tablet's code once; return the first inputs that differ."""
        there = self._run()
        assert len(there) == len(self._here)
        pairs = zip(self._cases, self._here, map(_text, there), strict=True)
        wrong = ((case, a, b) for case, a, b in pairs if a != b)
        return [_told(*one) for one, _ in zip(wrong, range(most), strict=False)]

    def _policy(self, given: Input) -> int:
        key = json.dumps(given.get("policy"), sort_keys=True)
        if key not in self._policies:
            self._policies[key] = len(self._policies)
            self._exported.append(exported(policy_of(given)))
        return self._policies[key]

    def _run(self) -> list[Any]:
        first = ["policies", self._exported, 0], ["words", WORDS, 0]
        asked = '{"module": "./clinical_whole.mjs", "function": "run", "cases": ['
        done = subprocess.run(
            ["node", "vectors.mjs"],
            cwd=CHECKS,
            input=f"{asked}{', '.join([*map(json.dumps, first), *self._cases])}]}}",
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        found: list[Any] = json.loads(done.stdout)
        return found[2:]


def _text(result: Any) -> str:
    return json.dumps(result, sort_keys=True)


def _told(case: str, here: str, there: str) -> dict[str, Any]:
    """Return one difference, of several results only those that differ."""
    function, given, _ = json.loads(case)
    python, tablet = json.loads(here), json.loads(there)
    if isinstance(python, dict) and isinstance(tablet, dict):
        wrong = {k for k in {*python, *tablet} if python.get(k) != tablet.get(k)}
        python, tablet = ({k: one.get(k) for k in wrong} for one in (python, tablet))
    return {"function": function, "input": given, "python": python, "tablet": tablet}
