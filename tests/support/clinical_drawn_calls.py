"""Inputs near the worked examples: numbers moved a step or to a limit, rows disordered.

So each function that has an example is drawn for, however its input looks.
"""

from __future__ import annotations

import re
from copy import deepcopy
from decimal import Decimal
from random import Random
from typing import Any

from tests.support.clinical_calls import Input
from tests.support.clinical_drawn_values import limits_by_unit
from tests.support.clinical_generated import POLICIES
from tests.support.clinical_vectors import worked

_NUMBER = re.compile(r"(-?[0-9]{1,6}(?:\.[0-9]{1,3})?)( [A-Za-z0-9/%\[\]{}._*]+)?")
_STEPS = (Decimal("0.1"), Decimal("0.2"), Decimal("0.5"), Decimal(1), Decimal(10))
_LIMITS = tuple({n for told in limits_by_unit().values() for n in told})
# What a record is never drawn without: an entry's name and place stay as they are.
_KEPT = ("path", "id", "log", "strike")


class Near:
    """A source of inputs near the examples of one function, the same for a seed."""

    def __init__(self, function: str, seed: int) -> None:
        self.chance = Random(f"{function} {seed}")
        examples = [case for told in worked().values() for case in told]
        self.inputs = [c["input"] for c in examples if c["function"] == function]
        if not self.inputs and function.startswith("in_"):
            whole = [c for c in examples if c["function"] == "case_remarks"]
            self.inputs = [c["input"] for c in whole]
        self._seen: dict[str, list[Any]] = {}
        for given in self.inputs:
            self._learn("", given)

    def call(self) -> Input:
        """Return one input."""
        given = deepcopy(self.chance.choice(self.inputs))
        self.rate = self.chance.choice((0.05, 0.2, 0.5))
        if isinstance(given.get("told"), list):
            given["told"] = self._disordered(given["told"])
        given = self._moved("", given)
        if "policy" not in given and self.chance.random() < 0.3:
            given["policy"] = self.chance.choice(POLICIES)
        if "told" not in given and "is_adult" not in given:
            given["is_adult"] = self.chance.random() < 0.8
        return given

    def _learn(self, key: str, value: Any) -> None:
        """Remember which values stand under a name, to put one for another."""
        for name, inside in _parts(key, value):
            self._learn(name, inside)
        if not isinstance(value, dict | list):
            known = self._seen.setdefault(key, [])
            if value not in known:
                known.append(value)

    def _moved(self, key: str, value: Any) -> Any:
        if key == "policy" or key in _KEPT:
            return value
        if isinstance(value, dict):
            return {name: self._moved(name, inside) for name, inside in value.items()}
        if isinstance(value, list):
            return [self._moved(name, inside) for name, inside in _parts(key, value)]
        if self.chance.random() > self.rate:
            return value
        if isinstance(value, int) and not isinstance(value, bool):
            beside = self.chance.choice((-60, -1, 0, 1, 60, 86_400))
            return self.chance.choice((value, self._other(key, value))) + beside
        if isinstance(value, str) and (match := _NUMBER.fullmatch(value)):
            return self._number(match)
        return self._other(key, value)

    def _number(self, match: re.Match[str]) -> str:
        """Return a number on a step beside it, or at a limit and a step beside that."""
        unit = match[2] or ""
        limits = limits_by_unit().get(unit.strip(), ()) or _LIMITS
        base = self.chance.choice((Decimal(match[1]), self.chance.choice(limits)))
        value = base + self.chance.choice((-1, 0, 1)) * self.chance.choice(_STEPS)
        return f"{abs(value) if base >= 0 else value:f}{unit}"

    def _other(self, key: str, value: Any) -> Any:
        alike = [v for v in self._seen.get(key, []) if type(v) is type(value)]
        return self.chance.choice(alike or [value])

    def _disordered(self, told: list[Any]) -> list[Any]:
        """Return entries with some left out, doubled, exchanged or struck."""
        told = [one for one in told if self.chance.random() > self.rate / 4]
        if len(told) > 1 and self.chance.random() < self.rate:
            a, b = self.chance.sample(range(len(told)), 2)
            told[a], told[b] = told[b], told[a]
        if told and self.chance.random() < self.rate:
            again = {k: v for k, v in self.chance.choice(told).items() if k != "id"}
            told.insert(self.chance.randint(0, len(told)), again)
        if told and self.chance.random() < self.rate:
            n = self.chance.randrange(len(told))
            struck = told[n].get("id", f"e{n}")
            told.append({"path": told[n]["path"], "strike": struck})
        return told


def _parts(key: str, value: Any) -> list[tuple[str, Any]]:
    """Return what is inside by name; a pair's two parts have two names."""
    if isinstance(value, dict):
        return list(value.items())
    if not isinstance(value, list):
        return []
    if any(isinstance(inside, dict | list) for inside in value):
        return [(key, inside) for inside in value]
    return [(f"{key} {n}", inside) for n, inside in enumerate(value)]
