"""What is found about threshold, output and margin, wire by wire."""

from __future__ import annotations

from typing import Any

from webapp.clinical.evidence import entries_of
from webapp.clinical.found import Found
from webapp.clinical.over import heads, is_over
from webapp.clinical.readings import ThresholdSummary, threshold_summary
from webapp.clinical.rows import rows_of
from webapp.clinical.told import Told

_HANDED = ("finish.handed_to", "finish.received_by", "finish.received_at")


def capture_remarks(told: Told) -> list[Found]:
    """Return each wire's remarks on its tests and on the dial left at."""
    return [found for wire in told.wires for found in _of_wire(told, wire)]


def _of_wire(told: Told, wire: str) -> list[Found]:
    handed = _handed(told.fold, wire)
    summary = threshold_summary(
        told.fold, wire, told.policy, now_ms=told.now_ms, at_handover=bool(handed)
    )
    evidence = _evidence(summary)
    path = f"wires/{wire}/capture.threshold_test"
    stands = not is_over(told.fold, wire)
    # Who answered it before the handover answered another, lighter remark.
    ids = {"below_floor": tuple(dict.fromkeys([*evidence, *handed]))}
    return [
        Found(one, path, wire, ids.get(one.code, evidence), stands)
        for one in summary.remarks
    ]


def _handed(fold: dict[str, Any], wire: str) -> tuple[str, ...]:
    """Return what tells of a handover of this wire, or of a transfer; () for none."""
    paths = [path for path in _HANDED if heads(fold, path)]
    reads = f"wires/{wire}/handover.receiver_reads"
    return entries_of(fold, paths, rows_of(fold, reads, "handover.transfer"))


def _evidence(summary: ThresholdSummary) -> tuple[str, ...]:
    """Return test and readings that count, then the settings held against them."""
    counted = [t for t in summary.tests if t.told.id == summary.counted]
    test = (counted or list(summary.tests[-1:]))[:1]
    ids = [i for one in test for i in (one.told.id, *one.told.ids) if i]
    left = [summary.left_at.id] if summary.left_at else []
    return tuple(dict.fromkeys([*ids, *left]))
