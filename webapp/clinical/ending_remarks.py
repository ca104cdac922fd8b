"""Where the ending of a wire's record and the rest of it do not agree.

Source: fixtures/sources.md#clinical-22.
"""

from __future__ import annotations

from webapp.clinical.capture_said import first_captured, said
from webapp.clinical.evidence import entries_of
from webapp.clinical.found import Found
from webapp.clinical.left_at import PARTS
from webapp.clinical.over import heads
from webapp.clinical.remarks import Remark
from webapp.clinical.rhythm import own_rhythm, own_rows
from webapp.clinical.rows import moment_ms, one_answer, rows_of
from webapp.clinical.told import Told

# What may follow from each event; an ending not named here contradicts it.
_FOLLOWS = {
    "removal_here": (
        *("removed_rhythm_back", "removed_permanent_system", "replaced", "pulled_out"),
    ),
    "found_out": ("pulled_out", "replaced"),
    "elsewhere": (
        *("removed_elsewhere", "removed_permanent_system", "replaced"),
        "removed_rhythm_back",
    ),
    "leaves_with_patient": ("left_with_patient", "home_externalised"),
    "died": ("died_wire_in", "care_withdrawn"),
    "care_withdrawn": ("care_withdrawn", "died_wire_in"),
}
_STILL_IN = ("left_with_patient", "home_externalised", "died_wire_in")
_AFTER = ("threshold_test", "output_reading", "sensing_test", "dial_left_at")


def ending_remarks(told: Told, wire: str) -> list[Found]:
    """Return each contradiction of one wire's ending."""
    endings = heads(told.fold, f"wires/{wire}/removal.ending")
    found = [f for ending in endings for f in _ending(told, wire, str(ending))]
    return [*found, *_after_out(told, wire)]


def _one(
    told: Told, wire: str, code: str, names: tuple[str, ...], ids: tuple[str, ...] = ()
) -> Found:
    under = f"wires/{wire}/removal"
    told_by = entries_of(told.fold, [f"{under}.{name}" for name in names])
    evidence = [i for i in told.fold["order"] if i in {*told_by, *ids}]
    path = f"{under}.{names[0]}"
    return Found(Remark(code, "look_again"), path, wire, tuple(evidence))


def _ending(told: Told, wire: str, ending: str) -> list[Found]:
    under = f"wires/{wire}/removal"
    found: list[Found] = []
    events = heads(told.fold, f"{under}.event")
    if any(ending not in _FOLLOWS.get(str(event), (ending,)) for event in events):
        found.append(_one(told, wire, "ending_not_event", ("ending", "event")))
    if ending in _STILL_IN and heads(told.fold, f"{under}.removed_at"):
        found.append(_one(told, wire, "ending_still_in", ("ending", "removed_at")))
    rows = own_rows(told.fold)
    is_none = bool(rows) and own_rhythm(rows[-1]).result == "none"
    if ending == "removed_rhythm_back" and is_none:
        ids = (rows[-1].id,)
        found.append(_one(told, wire, "ending_no_rhythm", ("ending",), ids))
    if ending == "replaced":
        found += _replaced(told, wire)
    return found


def _replaced(told: Told, wire: str) -> list[Found]:
    """Ask by which wire, and whether the next captured before this one was out."""
    names = ("ending", "replaced_by")
    newer = told.wires[told.wires.index(wire) + 1 :]
    is_named = bool(said(told.fold, f"wires/{wire}/removal.replaced_by"))
    if not newer:
        return [] if is_named else [_one(told, wire, "replaced_unsaid", names)]
    out_ms = moment_ms(one_answer(told.fold, f"wires/{wire}/removal.removed_at"))
    first = [first_captured(told.fold, other) for other in newer]
    before = [when for when in first if when is not None and out_ms is not None]
    if out_ms is None or any(when[0] <= out_ms for when in before):
        return []
    return [_one(told, wire, "replaced_early", ("removed_at", "ending"))]


def _after_out(told: Told, wire: str) -> list[Found]:
    """Return rows of a wire made after it was out."""
    out_ms = moment_ms(one_answer(told.fold, f"wires/{wire}/removal.removed_at"))
    if out_ms is None:
        return []
    under = [f"wires/{wire}/{part}.{name}" for part in PARTS for name in _AFTER]
    rows = rows_of(told.fold, *under, f"wires/{wire}/checks.check")
    late = tuple(row.id for row in rows if row.time_ms > out_ms)
    return [_one(told, wire, "after_out", ("removed_at",), late)] if late else []
