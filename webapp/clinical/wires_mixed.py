"""Readings of one wire that name a test of another.

Source: fixtures/sources.md#clinical-22; clinical 26, H13: two wires mixed.
"""

from __future__ import annotations

from webapp.clinical.found import Found, ids_in_order
from webapp.clinical.left_at import PARTS
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told

_OF = {"output_reading": "threshold_test", "sensing_reading": "sensing_test"}


def mixed_remarks(told: Told) -> list[Found]:
    """Return each reading that stands under one wire and names another's test."""
    tests: dict[str, tuple[str, Row]] = {}
    for wire in told.wires:
        for row in _rows(told, wire, tuple(_OF.values())):
            tests[row.id] = (wire, row)
    found: list[Found] = []
    for wire in told.wires:
        for row in _rows(told, wire, tuple(_OF)):
            owner = tests.get(str(row.value.get("of")))
            if owner is not None and owner[0] != wire:
                remark = Remark("wires_mixed", "look_again")
                evidence = ids_in_order([owner[1], row])
                found.append(Found(remark, row.path, wire, evidence))
    return found


def _rows(told: Told, wire: str, names: tuple[str, ...]) -> list[Row]:
    paths = [f"wires/{wire}/{part}.{name}" for part in PARTS for name in names]
    return rows_of(told.fold, *paths)
