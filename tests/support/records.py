"""Small records built from (path, value) pairs through the real catalogue and fold."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check
from webapp.record.case import Case
from webapp.record.entry import uuid7
from webapp.record.fold import Opened, fold

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
BEGAN = datetime(2026, 5, 14, 7, 0, tzinfo=UTC)
ZONE = "America/New_York"
LOG = uuid7(0, bytes(10))
RECORD = uuid7(1, bytes(10))
PEOPLE = {
    "operator": {"person": "p-1", "name": "E. Tarn-Example", "role": "operator"},
    "supervisor": {"person": "p-2", "name": "I. Skerry-Example", "role": "supervisor"},
    "nurse": {"person": "p-3", "name": "K. Ouse-Example", "role": "nurse"},
    "crew": {"person": None, "name": "Ambulance crew", "role": "other"},
}


class Recording:
    """One record being told; each call is one entry by one person."""

    def __init__(self, by: str = "operator", source: str = "seen") -> None:
        self.by, self.source = by, source
        self.entries: list[Opened] = []

    def says(self, path: str, value: Any, **how: Any) -> str:
        """Answer a field; returns the entry's id."""
        return self._keep(path, "set", value, how)

    def adds(self, path: str, value: dict[str, Any], **how: Any) -> str:
        """Add a row to a group; returns the entry's id."""
        return self._keep(path, "add", value, how)

    def strikes(self, path: str, entry: str, reason: str = "entered in error") -> str:
        """Strike a row; returns the strike's id."""
        value = {"strikes": entry, "reason": reason}
        return self._append(path, "strike", value, {})

    def wire(self, answers: dict[str, Any]) -> str:
        """Add a wire and its answers; returns the wire's id."""
        number = 1 + sum(e.body["path"] == "wires" for e in self.entries)
        wire = self.adds("wires", {"name": f"Wire {number}"})
        for path, value in answers.items():
            self.says(f"wires/{wire}/{path}", value)
        return wire

    @property
    def case(self) -> Case:
        """Return what has been told so far."""
        return Case(fold(self.entries), CATALOGUE)

    def _keep(self, path: str, op: str, value: Any, how: dict[str, Any]) -> str:
        field = CATALOGUE.field(path)
        assert field is not None, f"no path {path}"
        assert check(field, value).state != "illegal", f"{path}: {value!r}"
        return self._append(path, op, value, how)

    def _append(self, path: str, op: str, value: Any, how: dict[str, Any]) -> str:
        seq = len(self.entries) + 1
        author = PEOPLE[how.get("by", self.by)]
        called_by = how.get("called_by")
        at = BEGAN + timedelta(seconds=seq)
        body = {
            "path": path,
            "op": op,
            "value": value,
            "seen": how.get("seen", []),
            "at": {
                "utc": at.strftime("%Y-%m-%dT%H:%M:%S.000Z"),
                "zone": ZONE,
                "offset_min": -240,
                "skew_ms": 0,
            },
            "author": author,
            "entered_by": author,
            "called_by": PEOPLE[called_by] if called_by else None,
            "source": how.get("source", self.source),
            "how": "typed",
            "salt": "00" * 16,
        }
        entry_id = uuid7(seq, seq.to_bytes(10, "big"))
        self.entries.append(Opened(entry_id, LOG, seq, body))
        return entry_id


def record_names() -> list[str]:
    """Return the name of every small record."""
    return list(_told())


def small_record(name: str) -> Recording:
    """Return a small record of fixtures/coding/records.toml."""
    told = _whole(name)
    record = Recording(told.get("by", "operator"), told.get("source", "seen"))
    for path, value in told.get("says", {}).items():
        record.says(path, _named(value))
    for path, row in told.get("rows", []):
        row_id = record.adds(path, {n: _named(value) for n, value in row.items()})
        if "readings" in told:
            record.adds(f"{path}_reading", {"of": row_id, **told["readings"]})
    for answers in told.get("wires", []):
        wire = record.wire(answers)
        for path, row in told.get("wire_rows", []):
            record.adds(f"wires/{wire}/{path}", row)
    for path, value in told.get("twice", {}).items():
        record.says(path, value)
    return record


def site_of(name: str) -> dict[str, str]:
    """Return what the site of a small record decided."""
    decided: dict[str, str] = _whole(name).get("site", {})
    return decided


def case_of(pairs: Iterable[tuple[str, Any]], by: str = "operator") -> Case:
    """Return the case of these answers."""
    record = Recording(by)
    for path, value in pairs:
        record.says(path, value)
    return record.case


def _named(value: Any) -> Any:
    """Return a value with `{ who = "operator" }` in it as that person."""
    if not isinstance(value, dict) or set(value) != {"who"}:
        return value
    known = PEOPLE[value["who"]]
    named = {"name": known["name"], "role": known["role"], "credential": ""}
    return {"person": None, **named}


@cache
def _told() -> dict[str, dict[str, Any]]:
    text = (FIXTURES / "coding" / "records.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _whole(name: str) -> dict[str, Any]:
    own = _told()[name]
    if "like" not in own:
        return own
    base = _whole(own["like"])
    says = {**base.get("says", {}), **own.get("says", {})}
    return {**base, **own, "says": says}
