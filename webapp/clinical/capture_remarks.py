"""What is found about threshold, output and margin, wire by wire."""

from __future__ import annotations

from webapp.clinical.found import Found
from webapp.clinical.over import is_over
from webapp.clinical.readings import ThresholdSummary, threshold_summary
from webapp.clinical.told import Told


def capture_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on its tests and on the dial left at."""
    return [found for wire in told.wires for found in _of_wire(told, wire)]


def _of_wire(told: Told, wire: str) -> list[Found]:
    summary = threshold_summary(told.fold, wire, told.policy, now_ms=told.now_ms)
    evidence = _evidence(summary)
    path = f"wires/{wire}/capture.threshold_test"
    stands = not is_over(told.fold, wire)
    return [Found(one, path, wire, evidence, stands) for one in summary.remarks]


def _evidence(summary: ThresholdSummary) -> tuple[str, ...]:
    """Return test and readings that count, then the settings held against them."""
    counted = [t for t in summary.tests if t.told.id == summary.counted]
    test = (counted or list(summary.tests[-1:]))[:1]
    ids = [i for one in test for i in (one.told.id, *one.told.ids) if i]
    left = [summary.left_at.id] if summary.left_at else []
    return tuple(dict.fromkeys([*ids, *left]))
