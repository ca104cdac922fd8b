"""Whether a wire was last said to capture, and what said it.

Source: fixtures/sources.md#clinical-22.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.clinical.left_at import PARTS
from webapp.clinical.rows import Row, rows_of

_YES_NO = {"yes": True, "no": False}


@dataclass(frozen=True, slots=True)
class Said:
    """One answer. `when`: its time and its place in the record's order."""

    value: Any
    ids: tuple[str, ...]
    when: tuple[int, int]


def said(fold: dict[str, Any], path: str) -> list[Said]:
    """Return every answer to a field that nobody has settled, absences left out."""
    places = {entry_id: n for n, entry_id in enumerate(fold["order"])}
    found: list[Said] = []
    for head in fold["values"].get(path, []):
        ids = tuple(head["entries"])
        if isinstance(head["value"], dict) and "absent" in head["value"]:
            continue
        when = max((fold["entries"][i]["time_ms"], places[i]) for i in ids)
        found.append(Said(head["value"], ids, when))
    return found


def captures_said(fold: dict[str, Any], wire: str) -> list[Said]:
    """Return every yes or no to capture of a wire, in time: at the procedure, at
    checks, lost and regained. A reading inside a test says nothing here.
    """
    under = f"wires/{wire}"
    found = [
        Said(_YES_NO[one.value], one.ids, one.when)
        for one in said(fold, f"{under}/capture.electrical_capture")
        if one.value in ("yes", "no")
    ]
    for row in rows_of(fold, f"{under}/checks.check"):
        if row.value.get("electrical_capture") in ("yes", "no"):
            found.append(_row(row, row.value["electrical_capture"] == "yes"))
    for part in PARTS:
        lost = rows_of(fold, f"{under}/{part}.capture_lost")
        back = rows_of(fold, f"{under}/{part}.capture_regained")
        found += [_row(row, False) for row in lost]
        found += [_row(row, True) for row in back]
    return sorted(found, key=lambda one: one.when)


def _row(row: Row, value: bool) -> Said:
    return Said(value, (row.id,), (row.time_ms, row.place))


def first_captured(fold: dict[str, Any], wire: str) -> tuple[int, int] | None:
    """Return when a wire first captured: in a reading, or as said."""
    names = [f"wires/{wire}/{part}.output_reading" for part in PARTS]
    rows = rows_of(fold, *names)
    read = [(r.time_ms, r.place) for r in rows if r.value.get("result") == "captures"]
    told = [one.when for one in captures_said(fold, wire) if one.value]
    return min([*read, *told], default=None)
