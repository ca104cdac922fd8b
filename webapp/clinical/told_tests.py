"""Threshold tests and settings as rows of the record, turned into what is computed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.clinical.counted import Reading
from webapp.clinical.dial import Dial
from webapp.clinical.left_at import PARTS, LeftAt, output_of
from webapp.clinical.pulse_widths import usual_width, width_of
from webapp.clinical.rhythm import Pads, own_rate_at, own_rows, pads_of
from webapp.clinical.rows import Row, point, rows_of

_RESULTS = ("captures", "no_capture", "cannot_tell")


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A row that is kept and shown but never computed with; `why`: a code."""

    id: str
    why: str


@dataclass(frozen=True, slots=True)
class ToldTest:
    """One test with its readings in the order read. `id`: its row, or "" for readings
    that name no test; `is_ordered`: all were made on one tablet; `width_ms`: the pulse
    width, None where not known or in mA.
    """

    id: str
    part: str
    unit: str
    kind: str
    width_ms: str | None
    set_output: str | None
    pads_ready: bool
    doctor_present: bool
    is_ordered: bool
    time_ms: int
    place: int
    ids: tuple[str, ...]
    readings: tuple[Reading, ...]
    left_out: tuple[LeftOut, ...]


@dataclass(frozen=True, slots=True)
class _Around:
    """What stands around the readings: dial, settings, pulse width, rhythm, pads."""

    dial: Dial
    left: list[LeftAt]
    usual_width: Any
    own: list[Row]
    pads: Pads


def told_tests(
    fold: dict[str, Any], wire: str, dial: Dial, left: list[LeftAt]
) -> list[ToldTest]:
    """Return the tests of a wire in time, each with its readings.

    Readings of a struck test are left with it. Readings that name no known test
    make one of their own.
    """
    usual = usual_width(fold, wire)
    around = _Around(dial, left, usual, own_rows(fold), pads_of(fold))
    found: list[ToldTest] = []
    for part in PARTS:
        under = f"wires/{wire}/{part}"
        told = rows_of(fold, f"{under}.threshold_test")
        struck = _struck(fold, f"{under}.threshold_test")
        readings = rows_of(fold, f"{under}.output_reading")
        known = {row.id for row in told}
        loose = [
            row for row in readings if _of(row) not in known and _of(row) not in struck
        ]
        for row in told:
            own = [reading for reading in readings if _of(reading) == row.id]
            found.append(_test(part, row, own, around))
        for parent in dict.fromkeys(_of(row) for row in loose):
            own = [row for row in loose if _of(row) == parent]
            found.append(_test(part, None, own, around))
    return sorted(found, key=lambda test: test.time_ms)


def _of(row: Row) -> str:
    named = row.value.get("of")
    return named if isinstance(named, str) else ""


def _struck(fold: dict[str, Any], path: str) -> set[str]:
    return {
        row["id"] for row in fold["rows"].get(path, []) if row["struck"] is not None
    }


def _test(part: str, test: Row | None, rows: list[Row], around: _Around) -> ToldTest:
    told: Mapping[str, Any] = test.value if test else {}
    by_seq = sorted(rows, key=lambda row: row.place)
    outputs = [(row, *output_of(row, around.dial)) for row in by_seq]
    units = [unit for _, found, unit in outputs if found.n is not None]
    unit = units[-1] if units else "mA"
    kept: list[tuple[Row, str]] = []
    left_out: list[LeftOut] = []
    for row, found, own_unit in outputs:
        if row.value.get("result") not in _RESULTS:
            left_out.append(LeftOut(row.id, "no_result"))
        elif found.n is None:
            left_out.append(LeftOut(row.id, found.why))
        elif own_unit != unit:
            left_out.append(LeftOut(row.id, "other_unit"))
        else:
            kept.append((row, found.n))
    kind = told.get("kind")
    all_rows = [test, *by_seq] if test else by_seq
    time_ms, place = max((row.time_ms, row.place) for row in all_rows)
    return ToldTest(
        id=test.id if test else "",
        part=part,
        unit=unit,
        kind=kind if isinstance(kind, str) else "",
        width_ms=width_of(told, around.usual_width, unit),
        set_output=_set_output(told, unit, all_rows[0].time_ms, around.left),
        pads_ready=told.get("pads_ready") == "yes",
        doctor_present=told.get("doctor_present") == "yes",
        is_ordered=len({row.log for row, _ in kept}) <= 1,
        time_ms=time_ms,
        place=place,
        ids=tuple(row.id for row, _ in kept),
        readings=tuple(_reading(told, row, n, around) for row, n in kept),
        left_out=tuple(left_out),
    )


def _reading(
    test: Mapping[str, Any], row: Row, output: str, around: _Around
) -> Reading:
    return Reading(
        output,
        row.value["result"],
        point(row.value.get("rate", test.get("rate")), "/min").n,
        own_rate_at(around.own, row.time_ms),
        around.pads.is_pacing_at(row.time_ms),
    )


def _set_output(
    told: Mapping[str, Any], unit: str, start_ms: int, left: list[LeftAt]
) -> str | None:
    """Return the output set when the test began: said with it, or read back before."""
    if unit == "mA" and "set_output" in told:
        return point(told["set_output"], "mA").n
    before = [s for s in left if s.time_ms <= start_ms]
    return before[-1].output if before and before[-1].unit == unit else None
