"""Entry streams as they stand in fixtures/logs/."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from webapp.record.fold import Opened

LOGS = Path(__file__).resolve().parents[2] / "fixtures" / "logs"
JOINED = sorted(LOGS.glob("joined-*.json"))
STREAMS = sorted(set(LOGS.glob("*.json")) - set(JOINED))
SOMEBODY = {"person": None, "name": "Test-Mira FJORDHOLM", "role": "assistant"}
AT = {"utc": "2031-11-24T10:00:00.000Z", "zone": "Europe/Oslo", "offset_min": 60}
_BODY: dict[str, Any] = {
    "path": "patient.weight",
    "op": "set",
    "value": None,
    "seen": [],
    "at": {**AT, "skew_ms": 0},
    "author": SOMEBODY,
    "entered_by": SOMEBODY,
    "called_by": None,
    "source": "seen",
    "how": "typed",
    "salt": "00" * 16,
}


@dataclass(frozen=True, slots=True)
class Stage:
    """The entries that count at one moment, and what they fold to."""

    name: str
    entries: list[dict[str, Any]]
    fold: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Joined:
    """Several records, and which of them are one case."""

    records: dict[str, list[dict[str, Any]]]
    joined: list[list[str]]


def read_stages(file: Path) -> list[Stage]:
    """Return what a stream's file tells: one stage, or one before and one `later`.

    An entry there is {"id", "log", "seq", "time"?, "skew_ms"?, and parts of a body};
    `set_aside` names those that do not count. What is added `later` may release them:
    a row of `rulings` that says "counted" names the entry.
    """
    stream: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    written = [filled(entry) for entry in stream["entries"]]
    aside = set(stream.get("set_aside", ()))
    counted = [entry for entry in written if entry["id"] not in aside]
    stages = [Stage(file.stem, counted, stream["fold"])]
    if "later" in stream:
        added = [filled(entry) for entry in stream["later"]["entries"]]
        told = [e["body"]["value"] for e in added if e["body"]["path"] == "rulings"]
        aside -= {v["entry"] for v in told if v["ruling"] == "counted"}
        counted = [entry for entry in written if entry["id"] not in aside]
        name = f"{file.stem}-later"
        stages.append(Stage(name, counted + added, stream["later"]["fold"]))
    return stages


def read_joined(file: Path) -> Joined:
    """Return a file of several records with every entry's body filled in."""
    told: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    records = {r: list(map(filled, own)) for r, own in told["records"].items()}
    return Joined(records, told["joined"])


def filled(short: dict[str, Any]) -> dict[str, Any]:
    """Return a whole entry; `time` stands for the clock time of the day in `AT`."""
    parts = dict(short)
    named = {name: parts.pop(name) for name in ("id", "log", "seq")}
    at = {**AT, "skew_ms": parts.pop("skew_ms", 0)}
    if "time" in parts:
        at["utc"] = f"2031-11-24T{parts.pop('time')}Z"
    return {**named, "body": {**_BODY, "at": at, **parts}}


def opened(entries: list[dict[str, Any]]) -> list[Opened]:
    """Return the entries as the server's fold takes them."""
    return [Opened(e["id"], e["log"], e["seq"], e["body"]) for e in entries]
