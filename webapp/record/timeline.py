"""The case on one time ruler: moments, readings, what lasted, as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.catalogue.moments import read_instant
from webapp.record.case import Case, Row
from webapp.record.questions import places
from webapp.record.timeline_bars import Bar, bars

# One procedure; what lies further off is told in words, not drawn.
WINDOW_MS = 8 * 60 * 60 * 1000
# An order of the day before, or an infarct's onset, must not push the readings out.
LEAD_MS = 60 * 60 * 1000


@dataclass(frozen=True, slots=True)
class Flag:
    """A named moment. `about` when its clock time was not exact."""

    ms: int
    label: str
    about: bool


@dataclass(frozen=True, slots=True)
class Reading:
    """A depth or output reading. `amount` in cm or mA; `says` its result in words."""

    ms: int
    amount: Fraction
    says: str
    result: str


@dataclass(frozen=True, slots=True)
class Timeline:
    """Everything drawn, between `start_ms` and `end_ms`; `others`: what is left out."""

    start_ms: int
    end_ms: int
    flags: tuple[Flag, ...]
    depths: tuple[Reading, ...]
    outputs: tuple[Reading, ...]
    others: int
    bars: tuple[Bar, ...] = ()


def timeline(case: Case) -> Timeline | None:
    """Return the case's timeline, or None when it holds no clock time.

    It begins with the first moment, yet at most an hour before the first reading.
    """
    flags = sorted(_flags(case), key=lambda f: (f.ms, f.label))
    depths = sorted(_readings(case, "advance.depth_reading", "depth"), key=_at)
    outputs = sorted(_readings(case, "capture.output_reading", "output"), key=_at)
    readings = [r.ms for r in depths + outputs]
    lasting = bars(case)
    times = [f.ms for f in flags] + readings + [b.start_ms for b in lasting]
    if not times:
        return None
    earliest = min(readings) - LEAD_MS if readings else min(times)
    start = min(t for t in times if t >= earliest)
    end = max(t for t in times if t <= start + WINDOW_MS)
    drawn = tuple(f for f in flags if start <= f.ms <= end)
    shown = tuple(b for b in lasting if _reaches(b, start, end))
    return Timeline(
        start,
        max(end, start + 60_000),
        drawn,
        tuple(r for r in depths if r.ms <= end),
        tuple(r for r in outputs if r.ms <= end),
        len(flags) - len(drawn) + len(lasting) - len(shown),
        shown,
    )


def _reaches(bar: Bar, start: int, end: int) -> bool:
    """Tell whether a bar lies on the ruler; an open one reaches on from its start."""
    if not bar.lasts:
        return start <= bar.start_ms <= end
    return bar.start_ms <= end and (bar.end_ms is None or bar.end_ms >= start)


def moment_ms(value: Any) -> int | None:
    """Return Unix milliseconds of a moment with a clock time, else None."""
    at = read_instant(value.get("utc")) if isinstance(value, dict) else None
    return round(at.timestamp() * 1000) if at else None


def _at(reading: Reading) -> int:
    return reading.ms


def _flags(case: Case) -> Iterator[Flag]:
    for row in case.rows("moments"):
        ms = moment_ms(row.get("moment"))
        if ms is not None:
            about = row.value["moment"].get("certainty") == "about"
            yield Flag(ms, row.words("name"), about)
    for part in case.catalogue.parts:
        for path, field, _ in places(case, part):
            if field.kind != "moment":
                continue
            answer = case.answer(path)
            ms = moment_ms(answer.value)
            if ms is not None:
                yield Flag(ms, field.label, answer.value["certainty"] == "about")


def _readings(case: Case, group: str, amount: str) -> list[Reading]:
    found = []
    for path in case.paths_of(group):
        for row in case.rows(path):
            reading = _reading(row, amount)
            if reading is not None:
                found.append(reading)
    return found


def _reading(row: Row, amount: str) -> Reading | None:
    ms = moment_ms(row.get("moment"))
    value = row.get(amount)
    if ms is None or not isinstance(value, dict) or "n" not in value:
        return None
    try:
        exact = Fraction(value["n"])
    except ValueError:
        return None
    result = row.get("result")
    code = result if isinstance(result, str) else ""
    return Reading(ms, exact, row.words("result"), code)
