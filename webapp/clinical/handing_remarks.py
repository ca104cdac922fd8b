"""What is found where a patient is handed over, moved, or the wire taken out.

Source: fixtures/sources.md#clinical-23.
"""

from __future__ import annotations

from typing import Any

from webapp.clinical.dependence import dependence
from webapp.clinical.depth_moved import depth_compared, depth_read
from webapp.clinical.evidence import entries_of
from webapp.clinical.found import Found, at_row, ids_in_order
from webapp.clinical.over import has_died, heads, is_over
from webapp.clinical.read_again import read_again_remarks
from webapp.clinical.remarks import Remark
from webapp.clinical.removal_remarks import removal_remarks
from webapp.clinical.rhythm import own_rhythm, own_rows, pads_of
from webapp.clinical.rows import Row, moment_ms, rows_of, wire_paths
from webapp.clinical.told import Told

# "Connected, pacing mode ready" and "pacing now" alone are backup (clinical 18).
_READY = ("connected_ready", "pacing_now")


def handing_remarks(told: Told) -> list[Found]:
    """Return what receivers read otherwise, open handovers, transfers, removals."""
    found = [f for wire in told.wires for f in read_again_remarks(told, wire)]
    found += _no_receiver(told)
    transfers = rows_of(told.fold, "handover.transfer")
    found += [f for row in transfers for f in _transfer(told, row)]
    return found + [f for wire in told.wires for f in removal_remarks(told, wire)]


def _wires_in(told: Told) -> list[str]:
    return [wire for wire in told.wires if not is_over(told.fold, wire)]


def _no_receiver(told: Told) -> list[Found]:
    """Say that a handover has no receiver yet; at home the patient is who receives."""
    path = "finish.handed_to"
    if not heads(told.fold, path) or heads(told.fold, "finish.received_by"):
        return []
    reads = wire_paths(told.fold, ("handover.receiver_reads",))
    if rows_of(told.fold, *reads) or not _wires_in(told):
        return []
    if "home" in heads(told.fold, "finish.destination"):
        return []
    remark = Remark("handover_open", "look_again")
    return [Found(remark, path, "", entries_of(told.fold, [path]))]


def _transfer(told: Told, row: Row) -> list[Found]:
    """Return what a way between places lacked, or moved; on arrival it is past."""
    left = moment_ms(row.value.get("left_at"))
    at_ms = row.time_ms if left is None else left
    found: list[Found] = []
    own = [one for one in own_rows(told.fold) if one.time_ms <= at_ms]
    rhythm = own_rhythm(own[-1] if own else None)
    pads = _pads(told, at_ms)
    is_ready = pads is not None and _state(pads) in _READY
    is_ready = is_ready and row.value.get("pads_with") != "no"
    if dependence(rhythm, told.limits).is_dependent and not is_ready and told.wires:
        remark = Remark("transfer_without_pads", "look_now", asks="pads_connected")
        evidence = ids_in_order([*own[-1:], *([pads] if pads else []), row])
        is_past = moment_ms(row.value.get("arrived_at")) is not None
        stands = not is_past and bool(_wires_in(told)) and not has_died(told.fold)
        found.append(Found(remark, row.path, "", evidence, stands))
    return [*found, *_moved(told, row)]


def _pads(told: Told, at_ms: int) -> Row | None:
    """Return what told the state of the pads last before a time."""
    checks = rows_of(told.fold, *wire_paths(told.fold, ("checks.check",)))
    said = [*pads_of(told.fold).states, *(r for r in checks if "pads" in r.value)]
    before = [row for row in said if row.time_ms <= at_ms]
    return max(before, key=lambda row: (row.time_ms, row.place), default=None)


def _state(row: Row) -> Any:
    return row.value.get("pads" if row.path.endswith(".check") else "state")


def _moved(told: Told, row: Row) -> list[Found]:
    """Say that the wire lay elsewhere after the way; how it was read nobody says."""
    names = ("depth_before", "depth_after")
    before, after = (depth_read({"depth": row.value.get(n)}, ()) for n in names)
    if before is None or after is None:
        return []
    if depth_compared(before, after, told.limits) != "moved":
        return []
    values = {"before": before.shown, "after": after.shown}
    key = ("depth_moved_estimated_cm",)
    remark = Remark("transfer_moved", "look_again", values, key)
    return [at_row(remark, row, "")]
