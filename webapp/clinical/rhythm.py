"""Own rhythm and skin pacing as the record tells them, now and at a reading."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, cast

from webapp.clinical.certain import certain_ends
from webapp.clinical.dependence import OwnRhythm, Result
from webapp.clinical.exact import decimal
from webapp.clinical.rows import Row, moment_ms, rows_of, wire_paths

_OWN = ("capture.own_rhythm", "checks.own_rhythm")
_RESULTS = ("rhythm", "none", "not_tested", "not_tolerated")


def own_rows(fold: dict[str, Any]) -> list[Row]:
    """Return every answer to "own rhythm?", of all wires, in time."""
    return rows_of(fold, "indication.own_rhythm", *wire_paths(fold, _OWN))


def own_rhythm(row: Row | None) -> OwnRhythm:
    """Return an answer as `dependence` reads it; None is "not asked"."""
    if row is None:
        return OwnRhythm()
    low, _ = _rate(row)
    told = row.value.get("result")
    if told not in _RESULTS:
        told = "rhythm" if low is not None else None
    return OwnRhythm(
        result=cast("Result | None", told),
        rate_per_min=low,
        is_tolerated=_yes(row.value.get("tolerated")),
        is_called_reliable=_yes(row.value.get("reliable")),
    )


def own_rate_at(rows: list[Row], time_ms: int) -> str | None:
    """Return the own rate known at a time, its higher end; None for none."""
    before = [row for row in rows if row.time_ms <= time_ms]
    if not before or own_rhythm(before[-1]).result != "rhythm":
        return None
    return _rate(before[-1])[1]


@dataclass(frozen=True, slots=True)
class Pads:
    """Everything said about pads and skin pacing, each in time."""

    states: list[Row]
    spells: list[Row]
    stops: list[Row]

    def is_pacing_at(self, time_ms: int) -> bool:
        """Tell whether skin pacing was open as "pacing now" at a time.

        A spell stays open until it is stopped, whatever the pads are said to be.
        """
        before = [row for row in self.states if row.time_ms <= time_ms]
        if before and before[-1].value["state"] == "pacing_now":
            return True
        return bool(self.open_spells(time_ms))

    def open_spells(self, time_ms: int) -> list[Row]:
        """Return the spells of skin pacing that were open at a time."""
        return [one for one in self.spells if _is_open(one, self.stops, time_ms)]


def pads_of(fold: dict[str, Any]) -> Pads:
    """Return what the record says about pads and skin pacing."""
    states = rows_of(fold, "indication.pads")
    return Pads(
        [row for row in states if "state" in row.value],
        rows_of(fold, "indication.skin_pacing"),
        rows_of(fold, "indication.skin_pacing_stop"),
    )


def _is_open(spell: Row, stops: list[Row], time_ms: int) -> bool:
    if spell.value.get("state") != "paced":
        return False
    start = moment_ms(spell.value.get("start"))
    if (spell.time_ms if start is None else start) > time_ms:
        return False
    told = spell.value.get("stop")
    if isinstance(told, dict) and "absent" not in told:
        stop = moment_ms(told)
        return stop is not None and time_ms < stop
    ends = [row.time_ms for row in stops if row.value.get("of") == spell.id]
    return not any(end <= time_ms for end in ends)


def _rate(row: Row) -> tuple[str | None, str | None]:
    """Return the own rate's lower and higher end, each None where not certain."""
    low, high = certain_ends(row.value.get("rate"), "/min")
    return (
        None if low is None else decimal(low),
        None if high is None else decimal(high),
    )


def _yes(value: Any) -> bool | None:
    return {"yes": True, "no": False}.get(value) if isinstance(value, str) else None
