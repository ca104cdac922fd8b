"""Entry streams as they stand in fixtures/logs/, and as hypothesis makes them up."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from webapp.record.fold import Opened

LOGS = Path(__file__).resolve().parents[2] / "fixtures" / "logs"
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


def read_stream(file: Path) -> dict[str, Any]:
    """Return a stream's file with every entry's body filled in.

    An entry there is {"id", "log", "seq", "time"?, "skew_ms"?, and parts of a body}.
    """
    stream: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    stream["entries"] = [filled(entry) for entry in stream["entries"]]
    return stream


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
