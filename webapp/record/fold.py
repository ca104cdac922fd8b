"""Fold entries into what the record says now; the same in any order of arrival.

`static/js/log/fold.js` gives the same JSON; both are held by `fixtures/logs/`.
"""

from __future__ import annotations

import json
import re
from collections import defaultdict
from collections.abc import Iterable
from datetime import datetime
from typing import Any, NamedTuple

FOLD_VERSION = 3

# A skew beyond this is no clock's; it keeps sums exact in both languages.
LARGEST_SKEW_MS = 10**15

# One written form only, so that both languages read the same moments.
_UTC = re.compile(
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{3})?Z"
)


class Opened(NamedTuple):
    """A counted entry with its body read (see `record.entry.decode_body`)."""

    id: str
    log: str
    seq: int
    body: dict[str, Any]


def fold(entries: Iterable[Opened]) -> dict[str, Any]:
    """Return the record as one JSON object.

    `values`: path -> heads, each {"value", "entries"}; `rows`: path -> rows, each
    {"id", "value", "struck"}; `entries`: id -> who, when, how; `order`: all ids.
    Two heads under one path are two answers: nobody has seen both yet. An erased entry
    says nothing any more, yet what it replaced or struck does not come back.
    """
    unique = {entry.id: entry for entry in entries}
    erasures = _erasures(unique)
    shells = {i: _shell(i, told) for i, told in erasures.items()}
    for entry_id in erasures:
        unique.pop(entry_id, None)
    order = _order(list(unique.values()))
    place = {entry_id: n for n, (entry_id, _) in enumerate(order)}
    by = _struck_by({**unique, **shells})
    struck = {i: erasures.get(strike.id, strike) for i, strike in by.items()}
    gone = {i for shell in shells.values() for i in shell.body["seen"]}
    return {
        "values": _values(unique, place, gone),
        "rows": _rows(unique, place, struck),
        "entries": {i: _meta(unique[i], time_ms) for i, time_ms in order},
        "order": [i for i, _ in order],
    }


def _erasures(entries: dict[str, Opened]) -> dict[str, Opened]:
    """Return, by the id of each entry that the desk erased, the entry that tells it."""
    found: dict[str, Opened] = {}
    for told in entries.values():
        if told.log != "desk":
            continue
        body, value = told.body, told.body["value"]
        is_told = (body["path"], body["op"]) == ("erasures", "add")
        if is_told and isinstance(value, dict):
            before = found.setdefault(_text(value, "entry"), told)
            if told.id < before.id:
                found[_text(value, "entry")] = told
    return found


def _shell(erased: str, told: Opened) -> Opened:
    """Return an erased entry without its words: what it replaced or struck is left."""
    value = told.body["value"]
    shell = {
        "path": _text(value, "path"),
        "op": _text(value, "op"),
        "value": {"strikes": _text(value, "strikes")},
        "seen": _text(value, "seen").split(" "),
    }
    return Opened(erased, told.log, told.seq, shell)


def _text(value: dict[str, Any], key: str) -> str:
    told = value.get(key)
    return told if isinstance(told, str) else ""


def corrected_ms(at: dict[str, Any]) -> int:
    """Return Unix milliseconds of an `at`, its clock's known skew taken off.

    An unreadable time counts as 0: it sorts first, and never fails the fold.
    """
    text = str(at.get("utc", ""))
    if not _UTC.fullmatch(text):
        return 0
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return 0
    whole = round(moment.timestamp() * 1000)
    skew = at.get("skew_ms")
    if type(skew) is int and abs(skew) <= LARGEST_SKEW_MS:
        return whole - skew
    return whole


def _order(entries: list[Opened]) -> list[tuple[str, int]]:
    """Order by corrected time, but never against the sequence of a log."""
    by_log: dict[str, list[Opened]] = defaultdict(list)
    for entry in entries:
        by_log[entry.log].append(entry)
    keyed: list[tuple[int, str, int, str]] = []
    for log, own in by_log.items():
        running = 0
        for entry in sorted(own, key=lambda e: (e.seq, e.id)):
            running = max(running, corrected_ms(entry.body["at"]))
            keyed.append((running, log, entry.seq, entry.id))
    return [(entry_id, ms) for ms, _, _, entry_id in sorted(keyed)]


def _values(
    entries: dict[str, Opened], place: dict[str, int], gone: set[str]
) -> dict[str, list[dict[str, Any]]]:
    sets: dict[str, list[Opened]] = defaultdict(list)
    for entry in entries.values():
        if entry.body["op"] == "set":
            sets[entry.body["path"]].append(entry)
    return {path: _heads(own, place, gone) for path, own in sorted(sets.items())}


def _heads(
    own: list[Opened], place: dict[str, int], gone: set[str]
) -> list[dict[str, Any]]:
    if len(own) == 1:
        [only] = own
        return [] if only.id in gone else [_head(only)]
    seen = {i for entry in own for i in entry.body["seen"] if i != entry.id} | gone
    standing = sorted((e for e in own if e.id not in seen), key=lambda e: place[e.id])
    heads: dict[str, dict[str, Any]] = {}
    for entry in standing:
        value = entry.body["value"]
        said = _whole(value) if len(standing) > 1 else ""
        heads.setdefault(said, {"value": value, "entries": []})["entries"].append(
            entry.id
        )
    return list(heads.values())


def _head(entry: Opened) -> dict[str, Any]:
    return {"value": entry.body["value"], "entries": [entry.id]}


def is_same_answer(one: Any, other: Any) -> bool:
    """Return whether two values say the same, however they were typed.

    A value that is a list is a choice of several: picked in another order it is the
    same. Lists inside a value keep their order.
    """
    return _whole(one) == _whole(other)


def _whole(value: Any) -> str:
    """Write what a whole value says: equal texts are one answer."""
    if isinstance(value, list):
        return "[" + ",".join(sorted(map(_whole_part, value))) + "]"
    return _whole_part(value)


def _whole_part(value: Any) -> str:
    return json.dumps(_said(value), sort_keys=True)


def _said(value: Any) -> Any:
    if isinstance(value, dict):
        skip = set() if _is_all_there_is(value) else {"as"}
        return {k: _said(v) for k, v in value.items() if k not in skip}
    if isinstance(value, list):
        return [_said(v) for v in value]
    # True is not 1 here, as it is not in JavaScript.
    return (type(value).__name__, value)


def _is_all_there_is(value: dict[str, Any]) -> bool:
    """Text of which nothing could be read is itself the answer."""
    return value.get("certainty") == "unreadable" or set(value) <= {"as", "unit"}


def _rows(
    entries: dict[str, Opened],
    place: dict[str, int],
    struck: dict[str, Opened],
) -> dict[str, list[dict[str, Any]]]:
    adds: dict[str, list[Opened]] = defaultdict(list)
    for entry in entries.values():
        if entry.body["op"] == "add":
            adds[entry.body["path"]].append(entry)
    return {
        path: [_row(e, struck) for e in sorted(own, key=lambda e: place[e.id])]
        for path, own in sorted(adds.items())
    }


def _row(entry: Opened, struck: dict[str, Opened]) -> dict[str, Any]:
    by = struck.get(entry.id)
    mark = None
    if by is not None:
        mark = {"by": by.id, "reason": by.body["value"].get("reason")}
    return {"id": entry.id, "value": entry.body["value"], "struck": mark}


def _struck_by(entries: dict[str, Opened]) -> dict[str, Opened]:
    """Return, for each struck entry, the strike that holds (the lowest by log, seq).

    A strike holds when no strike on it holds. Strikes that name each other in a
    circle are left undecided, and do not hold.
    """
    on: dict[str, list[Opened]] = defaultdict(list)
    for entry in entries.values():
        target = _target(entry, entries) if entry.body["op"] == "strike" else None
        if target is not None:
            on[target].append(entry)
    if not on:
        return {}
    holds = _decided(entries, on)
    found: dict[str, Opened] = {}
    for target, strikes in on.items():
        valid = [s for s in strikes if holds.get(s.id)]
        if valid:
            found[target] = min(valid, key=lambda s: (s.log, s.seq, s.id))
    return found


def _decided(
    entries: dict[str, Opened], on: dict[str, list[Opened]]
) -> dict[str, bool]:
    """Return whether each strike holds, from those that nobody struck on; once each."""
    strikes = [e for e in entries.values() if e.body["op"] == "strike"]
    open_on = {e.id: len(on.get(e.id, ())) for e in strikes}
    target_of = {strike.id: target for target, own in on.items() for strike in own}
    holds = {e.id: True for e in strikes if not open_on[e.id]}
    waiting = list(holds)
    while waiting:
        strike = waiting.pop()
        target = target_of.get(strike)
        if target not in open_on or target in holds:
            continue
        open_on[target] -= 1
        if holds[strike] or not open_on[target]:
            holds[target] = not holds[strike]
            waiting.append(target)
    return holds


def _target(entry: Opened, entries: dict[str, Opened]) -> str | None:
    """Return what a strike strikes, None where it names nothing it may strike."""
    if not isinstance(entry.body["value"], dict):
        return None
    named = entries.get(str(entry.body["value"].get("strikes")))
    if named is None or named.body["path"] != entry.body["path"]:
        return None
    return named.id if named.body["op"] in ("add", "strike") else None


def _meta(entry: Opened, time_ms: int) -> dict[str, Any]:
    # Written out: of every entry of every record that is folded there is one.
    body = entry.body
    return {
        "log": entry.log,
        "seq": entry.seq,
        "op": body["op"],
        "path": body["path"],
        "at": body["at"],
        "author": body["author"],
        "entered_by": body["entered_by"],
        "called_by": body["called_by"],
        "source": body["source"],
        "how": body["how"],
        "time_ms": time_ms,
    }
