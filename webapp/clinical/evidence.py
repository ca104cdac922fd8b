"""What a remark rests on: ids of entries, in the record's order."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from webapp.clinical.rows import Row


def in_order(rows: Iterable[Row]) -> tuple[str, ...]:
    """Return the ids of rows in the record's order, each once."""
    ordered = sorted(rows, key=lambda row: row.place)
    return tuple(dict.fromkeys(row.id for row in ordered))


def last_ms(fold: dict[str, Any]) -> int:
    """Return when the record's last entry was made; 0 for an empty record."""
    times: list[int] = [meta["time_ms"] for meta in fold["entries"].values()]
    return max(times, default=0)


def entries_of(
    fold: dict[str, Any], paths: Iterable[str], rows: Iterable[Row] = ()
) -> tuple[str, ...]:
    """Return the ids behind the answers of these fields, and of rows, in order."""
    ids = {row.id for row in rows}
    heads = [head for path in paths for head in fold["values"].get(path, [])]
    ids |= {entry_id for head in heads for entry_id in head["entries"]}
    return tuple(entry_id for entry_id in fold["order"] if entry_id in ids)
