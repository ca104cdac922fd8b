"""Read a case told in a file into the drafts a tablet would write.

A stream is JSON: `began` (local day and time), `zone`, `tablet`, `people` by short
name, and `entries`, each {"at", "by", "path", "op", "value"}; `as` names an entry,
"@name" stands for its id later on, in paths and in values; `id` fixes it, so that
another file can name it. Instead of a value,
{"typed": "1,5", "unit": "mA"} is read by the same parser as the tablet's keys, and
{"time": "10:41"}, {"about": "10:40"} or {"day": "2026-05-14"} are moments.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check, parse
from webapp.catalogue.model import Field
from webapp.record.entry import uuid7
from webapp.record.writer import Draft


class UnusableStream(ValueError):
    """A stream names a path, a person or a value that cannot be."""


@dataclass(frozen=True, slots=True)
class Stream:
    """One tablet's part of one case, in the order it was tapped."""

    name: str
    tablet: str
    record: str
    drafts: tuple[Draft, ...]


def read_stream(file: Path, make_id: Callable[[int], str] = uuid7) -> Stream:
    """Read one stream; `make_id` gives the id for Unix milliseconds.

    Raises UnusableStream: naming the entry and what is wrong with it.
    """
    told = json.loads(file.read_text(encoding="utf-8"))
    reader = _Reader(told, make_id)
    record = told.get("record") or make_id(_ms(reader.began))
    drafts = tuple(reader.draft(n, e) for n, e in enumerate(told["entries"], start=1))
    return Stream(file.stem, told["tablet"], record, drafts)


class _Reader:
    """Holds what a stream named so far: the heads of each path and the ids."""

    def __init__(self, told: dict[str, Any], make_id: Callable[[int], str]) -> None:
        self.zone = told["zone"]
        self.began = datetime.fromisoformat(told["began"]).replace(
            tzinfo=ZoneInfo(self.zone)
        )
        self.people = told["people"]
        self.make_id = make_id
        self.named: dict[str, str] = {}
        self.heads: dict[str, str] = {}
        self.clock = self.began

    def draft(self, number: int, entry: dict[str, Any]) -> Draft:
        try:
            return self._draft(entry)
        except (KeyError, ValueError, TypeError) as error:
            raise UnusableStream(f"entry {number}: {error!r}") from error

    def _draft(self, entry: dict[str, Any]) -> Draft:
        at = self._at(entry.get("at"))
        path = self._named(entry["path"])
        op = entry.get("op", "set")
        field = CATALOGUE.field(path)
        if field is None:
            raise UnusableStream(f"no path {path}")
        value = self._value(field, entry["value"], op)
        entry_id = entry.get("id") or self.make_id(_ms(self.clock))
        seen = (self.heads[path],) if op == "set" and path in self.heads else ()
        if op == "set":
            self.heads[path] = entry_id
        if "as" in entry:
            self.named[entry["as"]] = entry_id
        author = self.people[entry["by"]]
        by = self.people[entry.get("entered_by", entry["by"])]
        called = entry.get("called_by")
        return Draft(
            entry_id,
            path,
            op,
            value,
            seen,
            at,
            author,
            by,
            self.people[called] if called else None,
            entry.get("source", "seen"),
            entry.get("how", "typed"),
        )

    def _at(self, text: str | None) -> dict[str, Any]:
        if text:
            self.clock = self._local(text)
        else:
            self.clock += timedelta(seconds=7)
        return {**_stamp(self.clock, self.zone), "skew_ms": 0}

    def _local(self, text: str) -> datetime:
        """Return a "HH:MM[:SS]" of the first day, or a full local day and time."""
        if "T" in text:
            return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(self.zone))
        parts = [int(p) for p in text.split(":")]
        second = parts[2] if len(parts) > 2 else 0
        return self.began.replace(hour=parts[0], minute=parts[1], second=second)

    def _named(self, text: str) -> str:
        return "/".join(
            self.named[p.removeprefix("@")] if p.startswith("@") else p
            for p in text.split("/")
        )

    def _value(self, field: Field, told: Any, op: str) -> Any:
        if op == "strike":
            return {**told, "strikes": self._named(told["strikes"])}
        if op == "add":
            value: Any = {
                name: self._named(child)
                if name == "of"
                else self._child(field, name, child)
                for name, child in told.items()
            }
        else:
            value = self._one(field, told)
        verdict = check(field, value)
        if verdict.state == "illegal":
            raise UnusableStream(f"{field.name}: {value!r} is {verdict.problems}")
        return value

    def _child(self, field: Field, name: str, told: Any) -> Any:
        child = field.child(name)
        if child is None:
            raise UnusableStream(f"{field.name} has no {name}")
        return self._one(child, told)

    def _one(self, field: Field, told: Any) -> Any:
        if not isinstance(told, dict):
            return told
        if "typed" in told:
            return parse(field, told["typed"], told.get("unit"))
        if "time" in told or "about" in told:
            text = told.get("time") or told["about"]
            certainty = "exact" if "time" in told else "about"
            stamp = _stamp(self._local(text), self.zone)
            return {**stamp, "certainty": certainty, "clock": "wall"}
        if set(told) == {"day"}:
            return {"day": told["day"], "certainty": "day"}
        if set(told) == {"who"}:
            person = self.people[told["who"]]
            return {
                "person": person.get("person"),
                "name": person["name"],
                "role": person["role"],
                "credential": person.get("credential", ""),
            }
        return told


def _stamp(moment: datetime, zone: str) -> dict[str, Any]:
    utc = moment.astimezone(UTC)
    offset = moment.utcoffset() or timedelta()
    return {
        "utc": utc.strftime("%Y-%m-%dT%H:%M:%S.000Z"),
        "zone": zone,
        "offset_min": int(offset.total_seconds() // 60),
    }


def _ms(moment: datetime) -> int:
    return int(moment.timestamp() * 1000)
