"""Whether and when a wire crossed the tricuspid valve, and the pads then.

Source: fixtures/sources.md#clinical-4.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.clinical.evidence import entries_of, last_ms
from webapp.clinical.found import Found
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import pads_of
from webapp.clinical.tips import seen_in_ventricle
from webapp.clinical.told import Told
from webapp.clinical.way import looks_of, when

CAUTION = "indication.caution_"
# A wire for the atrium or the coronary sinus is not meant to cross.
_NOT_ACROSS = ("ra", "cs_lv")


@dataclass(frozen=True, slots=True)
class Crossing:
    """`is_meant`: a wire is to cross, as far as is said; `at_ms`: when the first did;
    `is_ahead`: none has, and the procedure goes on.
    """

    is_meant: bool
    at_ms: int | None
    is_ahead: bool


def crossing_of(told: Told, *wires: str) -> Crossing:
    """Return the first crossing of these wires, or of all."""
    crossers = [wire for wire in wires or told.wires if _is_meant(told, wire)]
    seen = [at for wire in crossers for at in _crossed(told, wire)]
    at_ms = min(seen)[0] if seen else None
    is_told = bool(heads(told.fold, "finish.outcome"))
    left = not told.wires or any(not is_over(told.fold, wire) for wire in crossers)
    is_ahead = at_ms is None and not is_told and left
    return Crossing(bool(crossers) or not told.wires, at_ms, is_ahead)


def pads_ready(told: Told, crossing: Crossing) -> tuple[bool, bool]:
    """Return whether pads were ready at the crossing, or are now; whether none are."""
    pads = pads_of(told.fold)
    until = crossing.at_ms
    said = [row for row in pads.states if until is None or row.time_ms <= until]
    state = said[-1].value["state"] if said else ""
    paces = pads.is_pacing_at(last_ms(told.fold) if until is None else until)
    return state in ("connected_ready", "pacing_now") or paces, state == "none"


def cautioned(told: Told, name: str, remark: Remark, stands: bool) -> list[Found]:
    """Return a remark where a caution was answered yes."""
    path = f"{CAUTION}{name}"
    if "yes" not in heads(told.fold, path):
        return []
    return [Found(remark, path, "", entries_of(told.fold, (path,)), stands)]


def _is_meant(told: Told, wire: str) -> bool:
    told_chambers = heads(told.fold, f"wires/{wire}/approach.chamber")
    return not told_chambers or any(one not in _NOT_ACROSS for one in told_chambers)


def _crossed(told: Told, wire: str) -> list[tuple[int, int]]:
    looks = looks_of(told.fold, wire)
    beyond = [when(look.row) for look in looks if look.chamber == "outflow"]
    return [*seen_in_ventricle(told.fold, wire), *beyond]
