"""The dial of a wire's generator, and the output it was left at."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from webapp.clinical.dial import Dial, dial_of
from webapp.clinical.dial_text import segments
from webapp.clinical.exact import decimal
from webapp.clinical.pulse_widths import usual_width, width_of
from webapp.clinical.rows import Point, Row, point, rows_of

PARTS = ("capture", "checks")
_UNITS = (("output", "mA"), ("output_v", "V"))


@dataclass(frozen=True, slots=True)
class LeftAt:
    """The output last read back from the dial. `output`: None when that answer holds
    no number; `is_final`: final settings, or those of a pacing check; `width_ms`: the
    pulse width, None where not known or in mA.
    """

    id: str
    output: str | None
    unit: str
    is_final: bool
    time_ms: int
    why: str = ""
    width_ms: str | None = None


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
    or impossible: an older number never stands in for it. A row that tells the pulse
    width alone tells it of the output before it. In volts the width goes on to the next
    output that tells none, until another generator is told.
    """
    paths = [f"wires/{wire}/{part}.dial_left_at" for part in PARTS]
    generators = rows_of(fold, f"wires/{wire}/capture.generator")
    usual = carried = usual_width(fold, wire)
    found: list[LeftAt] = []
    for row in rows_of(fold, *paths, f"wires/{wire}/capture.generator"):
        if row in generators:
            is_first = row == generators[0]
            carried = carried if is_first and not _tells_width(row) else usual
            continue
        if any(name in row.value for name, _ in _UNITS):
            found.append(_left_at(row, dial, carried))
        elif found and _tells_width(row):
            width_ms = width_of(row.value, carried, found[-1].unit)
            found[-1] = replace(found[-1], width_ms=width_ms)
        if found and found[-1].unit == "V":
            carried = row.value.get("pulse_width", carried)
    return found


def _tells_width(row: Row) -> bool:
    return "pulse_width" in row.value


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


def _left_at(row: Row, dial: Dial, usual: Any) -> LeftAt:
    found, unit = output_of(row, dial)
    is_final = row.value.get("when_kind") == "final" or "/checks." in row.path
    width_ms = width_of(row.value, usual, unit)
    return LeftAt(row.id, found.n, unit, is_final, row.time_ms, found.why, width_ms)
