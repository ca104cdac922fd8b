"""One wire's sensing: what was measured, what policy asks, what the dial was left at.

Source: fixtures/sources.md#clinical-9.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

from webapp.clinical.asynchronous import settings_rows, unsensed
from webapp.clinical.dependence import dependence, may_offer_sensing_test
from webapp.clinical.dial import Dial, dial_of
from webapp.clinical.dial_text import segments
from webapp.clinical.left_at import PARTS
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.rows import Row, one_answer, point, rows_of
from webapp.clinical.sensing import (
    Sensed,
    SensitivityAsks,
    sensing_remarks,
    sensing_threshold,
    sensitivity_asks,
)
from webapp.clinical.told import Told

_RESULTS = ("sensed", "not_sensed", "cannot_tell")


@dataclass(frozen=True, slots=True)
class SensingSummary:
    """`measured`, `left_at`: mV, exact decimals, None where not known; `is_offered`: a
    test may be offered; `test_ids`, `left_id`: the rows they rest on.
    """

    measured: str | None
    asks: SensitivityAsks
    left_at: str | None
    is_asynchronous: bool
    is_offered: bool
    remarks: tuple[Remark, ...]
    test_ids: tuple[str, ...]
    left_id: str


def sensing_summary(told: Told, wire: str) -> SensingSummary:
    """Return one wire's sensing: never another wire's test beside its dial.

    The latest test that measured counts: by its readings, else by what was written as
    sensed; of both the lower. One that only lost sensing leaves it unknown. An R wave
    is judged in the ventricle only.
    """
    dial = sensitivity_dial(told.fold, wire)
    measured, test_ids = _measured(told.fold, wire)
    left_at, is_async, left_id = _left(told.fold, wire)
    rows = own_rows(told.fold)
    own = own_rhythm(rows[-1] if rows else None)
    is_dependent = dependence(own, told.limits).is_dependent
    limits = dict(told.limits)
    if one_answer(told.fold, f"wires/{wire}/approach.chamber") == "ra":
        limits.pop("r_wave_low_mv", None)
    return SensingSummary(
        measured=measured,
        asks=sensitivity_asks(measured, dial, limits),
        left_at=left_at,
        is_asynchronous=is_async,
        is_offered=may_offer_sensing_test(is_dependent),
        remarks=sensing_remarks(measured, left_at, dial, limits, is_dependent),
        test_ids=test_ids,
        left_id=left_id,
    )


def sensitivity_dial(fold: dict[str, Any], wire: str) -> Dial:
    """Return the sensitivity dial of the wire's latest generator."""
    rows = rows_of(fold, f"wires/{wire}/capture.generator")
    return dial_of(segments(rows[-1].value.get("sensitivity_dial")) if rows else None)


def _measured(fold: dict[str, Any], wire: str) -> tuple[str | None, tuple[str, ...]]:
    """Return the sensing threshold of the latest test that tells of it."""
    under = [f"wires/{wire}/{part}" for part in PARTS]
    tests = rows_of(fold, *(f"{at}.sensing_test" for at in under))
    readings = rows_of(fold, *(f"{at}.sensing_reading" for at in under))
    for test in reversed(tests):
        own = [row for row in readings if row.value.get("of") == test.id]
        read = sensing_threshold([pair for row in own for pair in _pair(row)])
        written = point(test.value.get("sensed_mv"), "mV").n
        both = [mv for mv in (read, written) if mv is not None]
        # An older and better value never hides a test in which nothing was sensed.
        if both or any(row.value.get("result") == "not_sensed" for row in own):
            rows = sorted((test, *own), key=lambda row: row.place)
            lower = min(both, key=Fraction, default=None)
            return lower, tuple(row.id for row in rows)
    return None, ()


def _pair(row: Row) -> list[tuple[str, Sensed]]:
    mv, result = point(row.value.get("sensitivity"), "mV").n, row.value.get("result")
    if mv is None or result not in _RESULTS:
        return []
    return [(mv, cast("Sensed", result))]


def _left(fold: dict[str, Any], wire: str) -> tuple[str | None, bool, str]:
    """Return the sensitivity last read back, whether asynchronous, and its row.

    One read under a mode that does not sense, or before it, is none.
    """
    rows = settings_rows(fold, wire)
    run = unsensed(rows)
    if run:
        return None, True, run[-1].id
    for n in range(len(rows) - 1, -1, -1):
        row = rows[n]
        if unsensed(rows[: n + 1]):
            break
        if "sensitivity" in row.value:
            return point(row.value["sensitivity"], "mV").n, False, row.id
    return None, False, ""
