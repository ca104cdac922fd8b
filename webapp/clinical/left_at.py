"""The dial of a wire's generator, and the output it was left at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.clinical.dial import Dial, dial_of
from webapp.clinical.dial_text import segments
from webapp.clinical.exact import decimal
from webapp.clinical.rows import Point, Row, point, rows_of

PARTS = ("capture", "checks")
_UNITS = (("output", "mA"), ("output_v", "V"))


@dataclass(frozen=True, slots=True)
class LeftAt:
    """The output last read back from the dial. `output`: None when that answer holds
    no number; `is_final`: final settings, or those of a pacing check.
    """

    id: str
    output: str | None
    unit: str
    is_final: bool
    time_ms: int
    why: str = ""


def dial_in_use(fold: dict[str, Any], wire: str) -> tuple[Dial, bool]:
    """Return the dial of the wire's latest generator, and whether it puts out volts."""
    rows = rows_of(fold, f"wires/{wire}/capture.generator")
    if not rows:
        return dial_of(None), False
    latest = rows[-1].value
    return dial_of(segments(latest.get("output_dial"))), (
        latest.get("output_kind") == "voltage"
    )


def settings(fold: dict[str, Any], wire: str, dial: Dial) -> list[LeftAt]:
    """Return every output read back for a wire, in time; other answers are passed by.

    A row that holds an output holds the latest word on it, even where it is absent
    or impossible: an older number never stands in for it.
    """
    paths = [f"wires/{wire}/{part}.dial_left_at" for part in PARTS]
    return [
        _left_at(row, dial)
        for row in rows_of(fold, *paths)
        if any(name in row.value for name, _ in _UNITS)
    ]


def output_of(row: Row, dial: Dial) -> tuple[Point, str]:
    """Return a row's output, and its unit; "maximum" is the dial's highest if known."""
    for name, unit in _UNITS:
        value = row.value.get(name)
        if value is None:
            continue
        if isinstance(value, dict) and value.get("special") == "maximum" and dial.known:
            return Point(decimal(dial.highest)), unit
        return point(value, unit), unit
    return Point(None, "absent"), "mA"


def _left_at(row: Row, dial: Dial) -> LeftAt:
    found, unit = output_of(row, dial)
    is_final = row.value.get("when_kind") == "final" or "/checks." in row.path
    return LeftAt(row.id, found.n, unit, is_final, row.time_ms, found.why)
