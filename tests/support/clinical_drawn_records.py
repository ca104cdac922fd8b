"""Whole records drawn from the catalogue, dense in what the remarks of an area read.

Rows and answers in any order, from several tablets, for several wires; struck rows, two
answers, absences, bounds, what cannot be; times that lie at a limit of the policy.
"""

from __future__ import annotations

import ast
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from random import Random
from typing import Any

from tests.support.clinical_calls import Input
from tests.support.clinical_drawn_values import (
    CLINICAL,
    Answers,
    limits_by_unit,
)
from tests.support.clinical_generated import POLICIES
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field
from webapp.clinical.case_remarks import AREAS
from webapp.record.fold import Opened, fold

BEGAN = datetime(2031, 11, 24, 10, 0, tzinfo=UTC)
WIRES = ("w1", "w2")
NOBODY = {"person": None, "name": "", "role": "other"}
_MS = {"s": 1000, "min": 60_000, "h": 3_600_000, "d": 86_400_000}
# Who the record is about decides which limits apply: told in most records.
_WHO = (
    "patient.estimated_age",
    "patient.birth_date",
    "patient.weight",
    "patient.height",
)


@lru_cache(maxsize=1)
def read_paths() -> dict[str, tuple[str, ...]]:
    """Return the paths that each area's module names, those it is built on included."""
    templates = {template: template.rpartition("/")[2] for template, _ in FIELDS}
    found = {}
    for name, area in AREAS.items():
        words = _words(area.__module__, set())
        found[name] = tuple(
            template
            for template, path in templates.items()
            if path in words or (path.partition(".")[2] or path) in words
        )
    return found


def _words(module: str, seen: set[str]) -> set[str]:
    """Return the texts in a module and in those of this folder that it reads."""
    if module in seen or not module.startswith("webapp.clinical."):
        return set()
    seen.add(module)
    file = CLINICAL / f"{module.rpartition('.')[2]}.py"
    words: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            words.add(node.value.rpartition("/")[2].lstrip("."))
        elif isinstance(node, ast.ImportFrom) and node.module:
            words |= _words(node.module, seen)
    return words


FIELDS: tuple[tuple[str, Field], ...] = tuple(CATALOGUE.paths())
_FIELD = dict(FIELDS)


class Drawn:
    """A source of records, the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.answers = Answers(self.chance)

    def record(self) -> Input:
        """Return one record as an input of any function that reads a fold."""
        told = fold(self.entries())
        self._ms += self._apart()
        now = None if self.chance.random() < 0.2 else self._now_ms()
        policy = self.chance.choice((None, *POLICIES))
        return {"fold": told, "now_ms": now, "wire": "w1", "policy": policy}

    def entries(self) -> list[Opened]:
        """Return the entries of one record, in the order written."""
        self._ms = 0
        self._opened: list[Opened] = []
        self._rows: dict[str, list[str]] = {"wires": list(WIRES)}
        self._seqs = {"tablet-1": 0, "tablet-2": 0}
        self._wires()
        pool = self._pool()
        for _ in range(self.chance.randint(4, 26)):
            self._says(self.chance.choice(pool))
        return self._opened

    def _pool(self) -> list[str]:
        """Return the paths this record is about: two areas' own, and a few of any."""
        areas = self.chance.sample(sorted(AREAS), self.chance.choice((1, 1, 2)))
        pool = [path for area in areas for path in read_paths()[area]]
        pool = [path for path in pool if path != "wires"] or list(_FIELD)
        known = [path for path in _WHO if path in _FIELD and self.chance.random() < 0.4]
        return [*pool, *known, *self.chance.sample(sorted(_FIELD), 4)]

    def _wires(self) -> None:
        for wire in WIRES[: self.chance.choice((1, 1, 2))]:
            value = {"name": f"Wire {wire[1]}, right neck"}
            self._write(wire, {"path": "wires", "op": "add", "value": value})

    def _says(self, template: str) -> None:
        field = _FIELD[template]
        path = template.replace("*", self.chance.choice(("w1", "w1", "w1", "w2")))
        if path in self._rows and self.chance.random() < 0.1:
            self._strikes(path)
        elif field.kind == "group":
            self._adds(path, field)
        else:
            self._sets(path, field)

    def _adds(self, path: str, field: Field) -> None:
        often = self.chance.choice((0.5, 0.9))
        row = {
            child.name: self.answers.answer(child, self._utc(self._apart() // 2))
            for child in field.children
            if self.chance.random() < often
        }
        if field.row_of:
            row["of"] = self._parent(field)
        entry_id = f"e{len(self._opened)}"
        self._rows.setdefault(path, []).append(entry_id)
        self._write(entry_id, {"path": path, "op": "add", "value": row})

    def _parent(self, field: Field) -> str:
        ends = f".{field.row_of.rpartition('.')[2]}"
        named = [
            i for path, own in self._rows.items() if path.endswith(ends) for i in own
        ]
        return self.chance.choice((*named, *named, "gone"))

    def _sets(self, path: str, field: Field) -> None:
        before = [e.id for e in self._opened if e.body["path"] == path]
        seen = before if self.chance.random() < 0.7 else []
        value = self.answers.answer(field, self._utc(0))
        said = {"path": path, "op": "set", "value": value, "seen": seen}
        self._write(f"e{len(self._opened)}", said)

    def _strikes(self, path: str) -> None:
        struck = {"strikes": self.chance.choice(self._rows[path]), "reason": None}
        said = {"path": path, "op": "strike", "value": struck}
        self._write(f"e{len(self._opened)}", said)

    def _write(self, entry_id: str, said: dict[str, Any]) -> None:
        self._ms += self._apart()
        log = self.chance.choice(("tablet-1", "tablet-1", "tablet-1", "tablet-2"))
        self._seqs[log] += 1
        at = {
            "utc": self._utc(0),
            "zone": "Europe/Oslo",
            "offset_min": 60,
            "skew_ms": 0,
        }
        who = {"author": NOBODY, "entered_by": NOBODY, "called_by": None}
        how = {"source": "seen", "how": "none", "salt": "0" * 32}
        body = {"seen": [], **said, "at": at, **who, **how}
        self._opened.append(Opened(entry_id, log, self._seqs[log], body))

    def _apart(self) -> int:
        """Return milliseconds to the next entry: a minute or so, or a limit's own time."""
        roll = self.chance.random()
        if roll < 0.1:
            return 0
        if roll < 0.85:
            return self.chance.randint(1, 4) * 30_000
        unit = self.chance.choice(tuple(_MS))
        limit = self.chance.choice(limits_by_unit()[unit])
        return int(limit * _MS[unit]) + self.chance.choice((-1000, -1, 0, 0, 1, 1000))

    def _utc(self, later_ms: int) -> str:
        moment = BEGAN + timedelta(milliseconds=self._ms + later_ms)
        return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def _now_ms(self) -> int:
        return int(BEGAN.timestamp() * 1000) + self._ms
