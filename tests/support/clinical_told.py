"""Records told in a few lines (fixtures/vectors/readings.json), made into folds."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from typing import Any

from webapp.catalogue import CATALOGUE
from webapp.record.fold import Opened, fold

BEGAN = datetime(2031, 11, 24, 10, 0, tzinfo=UTC)
_AMOUNT = re.compile(r"(-?[0-9.]+) ([A-Za-z0-9/%\[\]{}._*]+)")
UNITS = {
    unit
    for _, field in CATALOGUE.paths()
    for one in (field, *field.children)
    for unit in one.units
}
NOBODY = {"person": None, "name": "", "role": "other"}


def fold_of(told: list[dict[str, Any]]) -> dict[str, Any]:
    """Return the fold of entries told in order, one a minute from 10:00.

    Each: {"path", and "add" | "set" | "strike": value, "id"?, "at"? "10:41", "log"?};
    "2.5 mA" in a row is a quantity, "10:41" or "10:41:05" under a moment's name a moment.
    """
    seqs: dict[str, int] = {}
    opened: list[Opened] = []
    for n, one in enumerate(told):
        log = one.get("log", "tablet-1")
        seqs[log] = seqs.get(log, 0) + 1
        opened.append(
            Opened(one.get("id", f"e{n}"), log, seqs[log], _body(one, opened, n))
        )
    return fold(opened)


def _body(one: dict[str, Any], before: list[Opened], n: int) -> dict[str, Any]:
    op = next(name for name in ("add", "set", "strike") if name in one)
    value = {"strikes": one["strike"], "reason": None} if op == "strike" else one[op]
    seen = (
        [e.id for e in before if e.body["path"] == one["path"]] if op == "set" else []
    )
    return {
        "path": one["path"],
        "op": op,
        "value": _grown(value) if op != "strike" else value,
        "seen": [] if one.get("unseen") else seen,
        "at": {
            "utc": _utc(one.get("at"), n),
            "zone": "Europe/Oslo",
            "offset_min": 60,
            "skew_ms": 0,
        },
        "author": NOBODY,
        "entered_by": NOBODY,
        "called_by": None,
        "source": "seen",
        "how": "none",
        "salt": "0" * 32,
    }


def _utc(at: str | None, n: int) -> str:
    moment = BEGAN + timedelta(minutes=n)
    if at is not None:
        day, _, clock = at.rpartition(" ")
        hour, minute, second = (int(part) for part in f"{clock}:0".split(":")[:3])
        moment = BEGAN.replace(hour=hour, minute=minute, second=second) + timedelta(
            days=int(day.removeprefix("+") or 0)
        )
    return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _grown(value: Any) -> Any:
    if isinstance(value, dict):
        return {
            name: _moment(part) if name in ("moment", "start", "stop") else _grown(part)
            for name, part in value.items()
        }
    if (
        isinstance(value, str)
        and (match := _AMOUNT.fullmatch(value))
        and (match[2] in UNITS)
    ):
        return {"as": match[1], "n": match[1], "unit": match[2]}
    return value


def _moment(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    return {
        "utc": _utc(value, 0),
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "certainty": "exact",
        "clock": "tablet",
    }


def now_ms(at: str) -> int:
    """Return Unix milliseconds of "10:41" or "+1 10:41" on the day of the record."""
    moment = datetime.fromisoformat(_utc(at, 0).replace("Z", "+00:00"))
    return int(moment.timestamp() * 1000)
