"""Read rows of a folded record: those that stand, when they were, their numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from typing import Any

from webapp.clinical.exact import number

# One written form only, so that both languages read the same moments.
_UTC = re.compile(
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{3})?Z"
)
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# What a value can be at all; the same as the catalogue's hard ranges (a test holds it).
HARD = {
    "mA": (Fraction(0), Fraction(25)),
    "V": (Fraction(0), Fraction(20)),
    "mV": (Fraction(1, 10), Fraction(30)),
    "/min": (Fraction(0), Fraction(800)),
    "cm": (Fraction(0), Fraction(125)),
    "kg": (Fraction(1, 5), Fraction(700)),
}
HARD_HEIGHT = (Fraction(20), Fraction(275))


@dataclass(frozen=True, slots=True)
class Row:
    """One row that stands. `time_ms`: its own moment, else when it was entered."""

    id: str
    path: str
    value: dict[str, Any]
    log: str
    time_ms: int
    place: int


@dataclass(frozen=True, slots=True)
class Point:
    """One exact number, or none and why not: "", "absent", "unreadable", "a_range",
    "compared", "no_figure", "unit_not_known", "impossible".
    """

    n: str | None
    why: str = ""


def rows_of(fold: dict[str, Any], *paths: str) -> list[Row]:
    """Return the rows of these groups that no strike takes out, in time."""
    places = {entry_id: n for n, entry_id in enumerate(fold["order"])}
    found = [
        _row(path, row, fold, places)
        for path in paths
        for row in fold["rows"].get(path, [])
        if row["struck"] is None and isinstance(row["value"], dict)
    ]
    return sorted(found, key=lambda row: (row.time_ms, row.place))


def _row(
    path: str, row: dict[str, Any], fold: dict[str, Any], places: dict[str, int]
) -> Row:
    meta = fold["entries"][row["id"]]
    own = moment_ms(row["value"].get("moment"))
    time_ms = meta["time_ms"] if own is None else own
    log, place = meta["log"], places[row["id"]]
    return Row(row["id"], path, row["value"], log, time_ms, place)


def moment_ms(value: Any) -> int | None:
    """Return Unix milliseconds of an exact or about moment, or None."""
    utc = value.get("utc") if isinstance(value, dict) else None
    if not isinstance(utc, str) or _UTC.fullmatch(utc) is None:
        return None
    try:
        moment = datetime.fromisoformat(utc.replace("Z", "+00:00"))
    except ValueError:
        return None
    return (moment - _EPOCH) // timedelta(milliseconds=1)


def wire_paths(fold: dict[str, Any], ends: Iterable[str]) -> list[str]:
    """Return the record's paths of these per-wire groups, whichever the wire."""
    wanted = tuple(f"/{end}" for end in ends)
    return [p for p in fold["rows"] if p.startswith("wires/") and p.endswith(wanted)]


def point(
    value: Any, unit: str, hard: tuple[Fraction, Fraction] | None = None
) -> Point:
    """Return the exact number of a quantity, when it is one in `unit` and possible.

    A range, a comparator ("> 10") or "low" is no point; nothing is converted.
    """
    if not isinstance(value, dict) or "absent" in value:
        return Point(None, "absent")
    if value.get("unit") != unit:
        return Point(None, "unit_not_known")
    for key, why in (("low", "a_range"), ("cmp", "compared"), ("special", "no_figure")):
        if key in value:
            return Point(None, why)
    exact = number(value.get("n"))
    if exact is None:
        return Point(None, "unreadable")
    low, high = hard or HARD[unit]
    return Point(value["n"]) if low <= exact <= high else Point(None, "impossible")


def ends_of(value: Any, unit: str) -> tuple[Fraction | None, Fraction | None]:
    """Return what a quantity says for certain: not below, not above.

    "30" gives 30 and 30, "20-30" 20 and 30, "> 30" 30 and None.
    """
    if not isinstance(value, dict) or value.get("unit") != unit:
        return None, None
    if "low" in value:
        return number(value["low"]), number(value.get("high"))
    exact = number(value.get("n"))
    if str(value.get("cmp", "")).startswith(">"):
        return exact, None
    return (None if "cmp" in value else exact), exact


def one_answer(fold: dict[str, Any], path: str) -> Any:
    """Return a field's one answer, or None for none, two, or a stated absence."""
    heads = fold["values"].get(path, [])
    if len(heads) != 1:
        return None
    value = heads[0]["value"]
    return None if isinstance(value, dict) and "absent" in value else value
