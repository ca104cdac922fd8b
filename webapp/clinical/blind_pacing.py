"""A wire guided by pacing alone in an asystolic arrest: the yield is low, said once.

Source: fixtures/sources.md#clinical-21, #domain-1 (1e, found-2).
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.arrests import in_arrest
from webapp.clinical.capture_said import first_captured
from webapp.clinical.evidence import entries_of
from webapp.clinical.found import Found
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.rows import Row, moment_ms, rows_of
from webapp.clinical.told import Told

_BY_PACING = ["pacing"]


def blind_pacing_remarks(told: Told) -> list[Found]:
    """Return the one remark on the first wire that was to pace so.

    Asystole: an arrest, and the last answer to "own rhythm?" is none. Told before the
    pulse was back, of a wire that had not captured before it; then it is past.
    """
    own = own_rows(told.fold)[-1:]
    if not own or own_rhythm(own[0]).result != "none":
        return []
    for wire in told.wires:
        path = f"wires/{wire}/advance.guided_by"
        arrests = _arrests(told.fold, wire, path)
        if not arrests or heads(told.fold, path) != [_BY_PACING]:
            continue
        evidence = entries_of(told.fold, (path,), [*arrests, *own])
        stands = in_arrest(told.fold) and not is_over(told.fold, wire)
        remark = Remark("blind_pacing", "look_again")
        return [Found(remark, path, wire, evidence, stands)]
    return []


def _arrests(fold: dict[str, Any], wire: str, path: str) -> list[Row]:
    """Return the arrests in which a guide of a wire was told, none captured before."""
    ids = entries_of(fold, (path,))
    at_ms = max((fold["entries"][one]["time_ms"] for one in ids), default=0)
    captured = first_captured(fold, wire)
    return [
        row
        for row in rows_of(fold, "indication.arrest")
        if (captured is None or captured > (row.time_ms, row.place))
        and all(at_ms < back for back in _backs(fold, row))
    ]


def _backs(fold: dict[str, Any], arrest: Row) -> list[int]:
    """Return when the pulse of an arrest was back, as far as anybody told."""
    own = moment_ms(arrest.value.get("pulse_back"))
    rows = rows_of(fold, "indication.pulse_back")
    later = [row.time_ms for row in rows if row.value.get("of") == arrest.id]
    return [*later, *([] if own is None else [own])]
