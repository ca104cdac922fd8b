"""Settings of a test that nobody has read back since: the banner of a test.

Worked out from the record alone, so that it outlives a closed part, a lock, a restart.
Source: fixtures/sources.md#clinical-10; CTSNet, Ley 2015/2022: both tests end with
"restore previous rate and output" (domain 4b).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.exact import number
from webapp.clinical.left_at import PARTS, dial_in_use, output_of
from webapp.clinical.mode import mode_of
from webapp.clinical.rows import Row, point, rows_of
from webapp.clinical.shown import seconds_of

_TESTS = ("threshold_test", "sensing_test")
_READINGS = ("output_reading", "sensing_reading")
_TO_READ = frozenset(("rate", "output", "sensitivity"))
SECOND_MS = 1000


@dataclass(frozen=True, slots=True)
class OpenTest:
    """`setting`: the output last in use, "0.1 mA", or "" where none was said.

    `since_ms`: of the first row since the last settings read back; `seconds` and
    `is_late` (open longer than `test_banner_alarm_s`) need the time now.
    """

    since_ms: int
    setting: str
    seconds: int | None
    is_late: bool
    ids: tuple[str, ...]


def open_test(
    fold: dict[str, Any], wire: str, limits: Mapping[str, str], now_ms: int | None
) -> OpenTest | None:
    """Return the test whose settings stand, or None.

    Only rate, output and sensitivity read back since its last row end it.
    """
    dial, _ = dial_in_use(fold, wire)
    open_rows: list[Row] = []
    read: frozenset[str] = frozenset()
    for row in _rows(fold, wire):
        if not row.path.endswith(".dial_left_at"):
            open_rows.append(row)
            read = frozenset()
        elif open_rows:
            read |= read_of(row, dial)
            if read >= _TO_READ:
                open_rows = []
    if not open_rows:
        return None
    since = open_rows[0].time_ms
    seconds = None if now_ms is None else seconds_of(now_ms - since)
    bound = number(limits.get("test_banner_alarm_s"))
    late = now_ms is not None and bound is not None
    return OpenTest(
        since,
        _setting(open_rows, dial),
        seconds,
        late and Fraction((now_ms or 0) - since) > (bound or 0) * SECOND_MS,
        tuple(row.id for row in sorted(open_rows, key=lambda row: row.place)),
    )


def read_of(row: Row, dial: Dial) -> frozenset[str]:
    """Return which of rate, output and sensitivity a row read back, as they can be."""
    found, _ = output_of(row, dial)
    mode = mode_of(row.value.get("mode"))
    is_async = row.value.get("asynchronous") == "yes"
    is_async = is_async or (mode is not None and mode.is_asynchronous)
    told = {
        "rate": point(row.value.get("rate"), "/min").n is not None,
        "output": found.n is not None or _is_maximum(row),
        "sensitivity": is_async
        or point(row.value.get("sensitivity"), "mV").n is not None,
    }
    return frozenset(name for name, is_read in told.items() if is_read)


def _is_maximum(row: Row) -> bool:
    told = (row.value.get("output"), row.value.get("output_v"))
    return any(isinstance(v, dict) and v.get("special") == "maximum" for v in told)


def _rows(fold: dict[str, Any], wire: str) -> list[Row]:
    """Return tests, their readings and settings in time; of a struck test nothing."""
    under = [f"wires/{wire}/{part}" for part in PARTS]
    struck = {
        row["id"]
        for at in under
        for name in _TESTS
        for row in fold["rows"].get(f"{at}.{name}", [])
        if row["struck"] is not None
    }
    names = (*_TESTS, *_READINGS, "dial_left_at")
    rows = rows_of(fold, *(f"{at}.{name}" for at in under for name in names))
    return [row for row in rows if str(row.value.get("of")) not in struck]


def _setting(rows: list[Row], dial: Dial) -> str:
    for row in reversed(rows):
        if row.path.endswith((".output_reading", ".sensing_test")):
            found, unit = output_of(row, dial)
            if found.n is not None:
                return f"{shown_on(dial, found.n)} {unit}"
    return ""
