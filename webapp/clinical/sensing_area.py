"""What is found about sensing, wire by wire."""

from __future__ import annotations

from webapp.clinical.found import Found
from webapp.clinical.over import is_over
from webapp.clinical.told import Told
from webapp.clinical.wire_sensing import SensingSummary, sensing_summary


def sensing_area(told: Told) -> list[Found]:
    """Return each wire's remarks on its sensing test and the sensitivity left at."""
    return [found for wire in told.wires for found in _of_wire(told, wire)]


def _of_wire(told: Told, wire: str) -> list[Found]:
    summary = sensing_summary(told, wire)
    path = f"wires/{wire}/capture.sensing_test"
    stands = not is_over(told.fold, wire)
    evidence = _evidence(told, summary)
    return [Found(one, path, wire, evidence, stands) for one in summary.remarks]


def _evidence(told: Told, summary: SensingSummary) -> tuple[str, ...]:
    places = {entry_id: n for n, entry_id in enumerate(told.fold["order"])}
    ids = {*summary.test_ids, *([summary.left_id] if summary.left_id else [])}
    return tuple(sorted(ids, key=places.__getitem__))
