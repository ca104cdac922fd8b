"""Where nobody can say which of two entries came first: their clocks do not tell.

`static/js/log/order-doubts.js` gives the same; both are held by `fixtures/logs/`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from itertools import accumulate
from typing import Any

from webapp.record.fold import LARGEST_SKEW_MS, corrected_ms


def doubtful_rows(fold: Mapping[str, Any], path: str) -> list[str]:
    """Return the standing rows of a group whose place among the others is doubtful.

    Within one log the order is its own, never doubtful. Across logs it is, when either
    clock cannot be told from: its skew unknown, its time unreadable, or set back
    while its log was written; or when both show the same millisecond.
    Used to say so beside the rows, and to keep remarks about a pattern silent.
    """
    rows = [r["id"] for r in fold["rows"].get(path, []) if r["struck"] is None]
    entries = fold["entries"]
    unsure = _unsure(entries)
    logs_at: dict[int, set[str]] = defaultdict(set)
    unsure_logs: set[str] = set()
    for row in rows:
        logs_at[entries[row]["time_ms"]].add(entries[row]["log"])
        if row in unsure:
            unsure_logs.add(entries[row]["log"])
    several = len({entries[row]["log"] for row in rows}) > 1

    def is_doubtful(row: str) -> bool:
        own = entries[row]["log"]
        is_tied = len(logs_at[entries[row]["time_ms"]]) > 1
        return is_tied or bool(unsure_logs - {own}) or (several and row in unsure)

    return [row for row in rows if is_doubtful(row)]


def _unsure(entries: Mapping[str, Any]) -> set[str]:
    """Return the entries whose own clock does not tell when they were made."""
    by_log: dict[str, list[tuple[int, str]]] = defaultdict(list)
    for entry_id, meta in entries.items():
        by_log[meta["log"]].append((meta["seq"], entry_id))
    found: set[str] = set()
    for own in by_log.values():
        ids = [entry_id for _, entry_id in sorted(own)]
        times = [corrected_ms(entries[i]["at"]) for i in ids]
        latest = list(accumulate(times, max))
        earliest = list(accumulate(reversed(times), min))[::-1]
        for n, entry_id in enumerate(ids):
            is_back = latest[n] > times[n] or earliest[n] < times[n]
            if is_back or not _is_known(entries[entry_id]["at"]):
                found.add(entry_id)
    return found


def _is_known(at: Mapping[str, Any]) -> bool:
    skew = at.get("skew_ms")
    is_skew = type(skew) is int and abs(skew) <= LARGEST_SKEW_MS
    return is_skew and corrected_ms({**at, "skew_ms": 0}) != 0
