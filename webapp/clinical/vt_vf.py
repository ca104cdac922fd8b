"""VT or VF while a wire is in the heart.

Source: fixtures/sources.md#clinical-4; first action from memory (domain 6b).
"""

from __future__ import annotations

from webapp.clinical.deep import still_lies
from webapp.clinical.found import Found, at_row
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told
from webapp.clinical.way import looks_of, text_of, when

# Where no pulse is said, the arrest's own clock is asked for beside it.
NO_PULSE = "vt_vf_no_pulse"


def vt_vf(told: Told, wire: str) -> list[Found]:
    """Return each VT or VF told; it stands until it is told or seen to have ended."""
    rows = rows_of(told.fold, f"wires/{wire}/advance.vt_vf")
    return [
        at_row(
            Remark(_code(row), "look_now", asks="vt_vf"),
            row,
            wire,
            not _has_ended(told, wire, row),
        )
        for row in rows
    ]


def _code(row: Row) -> str:
    if row.value.get("pulse") == "no":
        return NO_PULSE
    return {"vt": "vt", "vf": "vf"}.get(text_of(row, "rhythm"), "vt_or_vf")


def _has_ended(told: Told, wire: str, row: Row) -> bool:
    """Tell whether what ended it was said, or a later reading showed a pattern."""
    if text_of(row, "ended_by") or not still_lies(told, wire, when(row)):
        return True
    looks = looks_of(told.fold, wire)
    if any(look.chamber and when(look.row) > when(row) for look in looks):
        return True
    back = rows_of(told.fold, "indication.pulse_back")
    return any(when(one) > when(row) for one in back)
