"""What asks for a look-check apart from the shift: arrival, turning, imaging.

Source: fixtures/sources.md#clinical-23. How soon: `arrival_check_min`, derived.
"""

from __future__ import annotations

from typing import Any, Literal

from webapp.clinical.in_place import left_ms, placed_ms
from webapp.clinical.pictures import taken
from webapp.clinical.rows import moment_ms, one_answer, rows_of

After = Literal["", "arrival", "turned", "imaging"]
# clinical 23: after turning, transport, film or scan; ultrasound comes to the bed.
_MOVED: dict[str, After] = {"turned": "turned", "came_back": "arrival"}
_IMAGED = ("film", "ct", "fluoroscopy")


def _arrivals(fold: dict[str, Any], wire: str) -> list[int]:
    """Return each arrival at a place with the wire."""
    transfers = rows_of(fold, "handover.transfer")
    told = [moment_ms(row.value.get("arrived_at")) for row in transfers]
    told.append(moment_ms(one_answer(fold, "finish.received_at")))
    told.append(_came_ms(fold, wire))
    placed = placed_ms(fold, wire)
    return [ms for ms in told if ms is not None and (placed is None or ms >= placed)]


def _came_ms(fold: dict[str, Any], wire: str) -> int | None:
    """Return when a wire that came with the patient was named here."""
    if one_answer(fold, f"wires/{wire}/approach.wire_came") != "came_with_it":
        return None
    return next((r.time_ms for r in rows_of(fold, "wires") if r.id == wire), None)


def asked_by(fold: dict[str, Any], wire: str) -> list[tuple[int, After]]:
    """Return what asks for a look, in time: arrivals, and what moves the patient.

    Turning and imaging count once the wire is left in place: before it, both belong
    to placing it. What is reported later of a picture moved nobody again.
    """
    asked: list[tuple[int, After]] = [(ms, "arrival") for ms in _arrivals(fold, wire)]
    left = left_ms(fold, wire)
    left = _came_ms(fold, wire) if left is None else left
    if left is not None:
        moved = rows_of(fold, "moments")
        told = [(row.time_ms, _MOVED.get(str(row.value.get("name")))) for row in moved]
        asked += [(ms, after) for ms, after in told if after and ms > left]
        times = [row.time_ms for row in taken(fold, _IMAGED)]
        asked += [(ms, "imaging") for ms in times if ms > left]
    return sorted(asked)
