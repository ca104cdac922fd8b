"""Run many clinical calls of the tablet's modules in one node process."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.support.clinical_calls import Input, policy_of, told_as_fold
from tests.support.node import call
from webapp.clinical.policy import exported


def in_node(calls: list[tuple[str, Input]]) -> list[Any]:
    """Return what each (function, input) gives on the tablet, in order."""
    policies: list[Any] = []
    known: dict[str, int] = {}
    cases: list[list[Any]] = []
    for function, given in calls:
        key = json.dumps(given.get("policy"), sort_keys=True)
        if key not in known:
            known[key] = len(policies)
            policies.append(exported(policy_of(given)))
        told = {k: v for k, v in told_as_fold(given).items() if k != "policy"}
        cases.append([function, told, known[key]])
    return call("./clinical.mjs", "run", [["policies", policies, 0], *cases])[1:]


def functions_run(coverage: Path) -> dict[str, dict[str, int]]:
    """Return, for each module of static/js/clinical, how often each function ran.

    `coverage`: the folder that NODE_V8_COVERAGE named.
    """
    found: dict[str, dict[str, int]] = {}
    for report in coverage.glob("*.json"):
        for script in json.loads(report.read_text(encoding="utf-8"))["result"]:
            _, inside, name = script["url"].rpartition("/static/js/clinical/")
            if inside:
                told = script["functions"]
                ran = {f["functionName"]: f["ranges"][0]["count"] for f in told}
                found[name] = {k: n for k, n in ran.items() if k}
    return found
