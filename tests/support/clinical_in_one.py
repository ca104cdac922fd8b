"""Many inputs through Python, and the same through the tablet's code, a process each.

The tablet's process works while inputs are drawn: a line in, a line out.
"""

from __future__ import annotations

import json
import subprocess
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from tests.support.clinical_calls import (
    CALLS,
    WORDS,
    Input,
    call,
    plain,
    policy_of,
    told_as_fold,
)
from tests.support.clinical_vectors import worked
from tests.support.node import CHECKS
from webapp.clinical.case_remarks import AREAS
from webapp.clinical.policy import exported
from webapp.clinical.told import Told


def readers() -> tuple[str, ...]:
    """Return the functions that read a whole record: areas, and those told one."""
    examples = [case for cases in worked().values() for case in cases]
    told = {c["function"] for c in examples if "told" in c["input"]}
    alone = {c["function"] for c in examples if "told" not in c["input"]}
    return tuple(n for n in CALLS if n.startswith("in_") or n in told - alone)


class InOne:
    """Calls gathered for one process. `counts`: inputs by function; `folder`: for it."""

    def __init__(self, folder: Path) -> None:
        self.counts: Counter[str] = Counter()
        self.readers = readers()
        self._cases, self._there = folder / "cases", folder / "results"
        self._written = self._cases.open("w", encoding="utf-8")
        self._here: list[str] = []
        self._process = subprocess.Popen(
            ["node", "clinical_whole.mjs", str(self._there)],
            cwd=CHECKS,
            stdin=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        self._policies: dict[str, int] = {}
        self._exported: list[Any] = []
        self._tell(json.dumps(["words", WORDS, 0]))
        self._tell(json.dumps(["whole", self.readers, 0]))

    def add(self, function: str, given: Input) -> None:
        """Give one input to both, and keep what Python gives for it."""
        given = told_as_fold(given)
        told = {k: v for k, v in given.items() if k not in ("policy", "words")}
        case = json.dumps([function, told, self._policy(given)])
        self._tell(case)
        self._written.write(f"{case}\n")
        if function == "whole_record":
            self._here.append(_text(self._whole(given)))
            self.counts.update(self.readers)
        else:
            self._here.append(_text(call(function, given)))
            self.counts[function] += 1

    def _whole(self, given: Input) -> dict[str, Any]:
        """Return what each reader gives; areas read one record, as at the bedside."""
        told = Told(given["fold"], policy_of(given), given.get("now_ms"))
        areas = {f"in_{name}": area for name, area in AREAS.items()}
        return {
            name: plain([asdict(one) for one in areas[name](told)])
            if name in areas
            else call(name, given)
            for name in self.readers
        }

    def differences(self, most: int = 3) -> list[dict[str, Any]]:
        """End the tablet's process; return the first inputs whose results differ."""
        self._written.close()
        _, problems = self._process.communicate()
        assert self._process.returncode == 0, problems
        with self._there.open(encoding="utf-8") as there, self._cases.open() as cases:
            found = [*_differing(cases, self._here, there, most)]
        return found

    def _policy(self, given: Input) -> int:
        """Return the place of an input's policy, told again with each new one."""
        key = json.dumps(given.get("policy"), sort_keys=True)
        if key not in self._policies:
            self._policies[key] = len(self._policies)
            self._exported.append(exported(policy_of(given)))
            self._tell(json.dumps(["policies", self._exported, 0]))
        return self._policies[key]

    def _tell(self, line: str) -> None:
        assert self._process.stdin is not None
        self._process.stdin.write(f"{line}\n")


def _differing(
    cases: Iterator[str], here: list[str], there: Iterator[str], most: int
) -> Iterator[dict[str, Any]]:
    for case, python, tablet in zip(cases, here, there, strict=True):
        if most and python != _text(json.loads(tablet)):
            most -= 1
            yield _told(case, python, tablet)


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
