"""What is told of pads elsewhere than in their own rows: tests, checks, lists, readers.

Source: fixtures/sources.md#clinical-18.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.clinical.evidence import entries_of
from webapp.clinical.over import heads
from webapp.clinical.rows import rows_of, wire_paths
from webapp.clinical.told import Told

# "Pads: yes" at the time-out tells of pads; "connected, ready" tells more.
_ON = ("connected_ready", "pacing_now", "yes")
_OFF = ("none", "on_not_connected", "no")
_BESIDE = (
    *("checks.check", "capture.threshold_test", "checks.threshold_test"),
    *("capture.own_rhythm", "checks.own_rhythm", "handover.receiver_reads"),
)
_CHILDREN = ("pads", "pads_ready", "pads_then", "sees_pads")
_FIELDS = ("consent.time_out_pads", "finish.pads_left")


@dataclass(frozen=True, slots=True)
class Heard:
    """One answer about pads. `ids`: the entries that tell it."""

    is_on: bool
    time_ms: int
    ids: tuple[str, ...]


def pads_heard(told: Told) -> list[Heard]:
    """Return every answer that tells how the pads are; an absence tells nothing."""
    paths = ("indication.own_rhythm", *wire_paths(told.fold, _BESIDE))
    found = [
        Heard(value in _ON, row.time_ms, (row.id,))
        for row in rows_of(told.fold, *paths)
        for value in (row.value.get(name) for name in _CHILDREN)
        if _tells(value)
    ]
    fields = (*_FIELDS, *(f"wires/{wire}/removal.pads" for wire in told.wires))
    return [*found, *(one for path in fields for one in _answers(told, path))]


def _answers(told: Told, path: str) -> list[Heard]:
    ids = entries_of(told.fold, [path])
    times = [told.fold["entries"][entry_id]["time_ms"] for entry_id in ids]
    said = [value for value in heads(told.fold, path) if _tells(value)]
    return [Heard(value in _ON, max(times), ids) for value in said]


def _tells(value: Any) -> bool:
    return isinstance(value, str) and value in (*_ON, *_OFF)
