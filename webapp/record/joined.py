"""Which records are one case: two tablets each opened one, a person joined them.

`static/js/log/joined.js` gives the same; `fixtures/logs/joined-*.json` hold both.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

JOINED_TO = "joined_to"


def joins(fold: Mapping[str, Any]) -> list[Any]:
    """Return what one folded record says it is joined to; struck joins say nothing."""
    rows = fold["rows"].get(JOINED_TO, [])
    return [row["value"] for row in rows if row["struck"] is None]


def joined(told: Mapping[str, Iterable[Any]]) -> list[list[str]]:
    """Return the records as cases: the ids of each, sorted, and the cases sorted.

    `told`: the id of every record here, with its `joins`. The order of joins, and in
    which of two records one stands, do not matter. A record alone is a case of one.
    A join to itself changes nothing. One that names a record which is not here joins
    nothing by itself; two records that name the same one are one case all the same.
    Does not say which record of a case is right: entries and digests stay as they are.
    """
    case: dict[str, set[str]] = {}
    for record, values in told.items():
        own = case.setdefault(record, {record})
        for value in values:
            other = value.get("record") if isinstance(value, dict) else None
            if isinstance(other, str):
                own |= case.setdefault(other, {other})
                for member in own:
                    case[member] = own
    here = {id(members): sorted(members & told.keys()) for members in case.values()}
    return sorted(members for members in here.values() if members)
