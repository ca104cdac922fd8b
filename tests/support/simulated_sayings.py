"""What people enter in a simulated world: a little of everything a log may hold."""

from __future__ import annotations

from typing import Any

EVENT = "indication.event"


def said(rows: dict[str, Any], what: str, number: int) -> tuple[str, str, Any]:
    """Return path, op and value of an entry; a row that is not there is added.

    `rows`: those the tablet shows.
    """
    events = [row["id"] for row in rows.get(EVENT, [])]
    wires = [row["id"] for row in rows.get("wires", [])]
    if what == "strike" and events:
        value = {"strikes": events[number % len(events)], "reason": None}
        return EVENT, "strike", value
    if what == "unstrike" and (struck := _strikes(rows)):
        value = {"strikes": struck[number % len(struck)], "reason": "it was right"}
        return EVENT, "strike", value
    if what == "wire":
        return "wires", "add", {"name": f"Wire {number}"}
    if what == "site" and wires:
        sites = ("internal_jugular_right", "femoral_right")
        return f"wires/{wires[-1]}/approach.site", "set", sites[number % 2]
    if what == "name":
        return "patient.family_name", "set", f"ALDERMERE {number}"
    if what == "weight":
        kg = f"{50 + number}"
        return "patient.weight", "set", {"as": kg, "n": kg, "unit": "kg"}
    if what == "illegal":
        return "patient.no_such_field", "set", f"{number}"
    return EVENT, "add", {"what": f"{what} {number}"}


def _strikes(rows: dict[str, Any]) -> list[str]:
    return [row["struck"]["by"] for row in rows.get(EVENT, []) if row["struck"]]
