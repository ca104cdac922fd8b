"""What is found about what the wire showed on its way.

Source: fixtures/sources.md#clinical-4, #domain-3.
"""

from __future__ import annotations

from collections.abc import Callable

from webapp.clinical.before_valve import before_valve
from webapp.clinical.deep import still_lies
from webapp.clinical.exact import decimal
from webapp.clinical.found import Found, at_row
from webapp.clinical.guidance import ATRIAL
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import one_answer
from webapp.clinical.sites import is_upper, site_code
from webapp.clinical.st_shift import st_in_atrium, st_large
from webapp.clinical.told import Told
from webapp.clinical.vt_vf import vt_vf
from webapp.clinical.way import Look, in_order, looks_of, runs, when

# What an intracardiac ECG shows instead of contact.
_NO_CONTACT = (
    *("svc", *ATRIAL, "above_rv", "ivc"),
    *("rv_free", "outflow_pa"),
)


def pattern_remarks(told: Told) -> list[Found]:
    """Return the cautions before the valve, then each wire's remarks on its way."""
    parts: tuple[Callable[[Told, str], list[Found]], ...] = (
        *(vt_vf, _outflow, _ivc, _contact_lost, st_in_atrium, st_large),
        *(_p_waves, _contact),
    )
    on_way = [f for wire in told.wires for part in parts for f in part(told, wire)]
    return [*before_valve(told), *on_way]


def telling(told: Told, wire: str) -> list[Look]:
    """Return the readings that tell a chamber, in time."""
    return [look for look in looks_of(told.fold, wire) if look.chamber]


def _outflow(told: Told, wire: str) -> list[Found]:
    return _in_runs(told, wire, "outflow_pa", Remark("outflow", "look_now", asks="rv"))


def _ivc(told: Told, wire: str) -> list[Found]:
    """Say that a wire from above shows the vein below the atrium."""
    if not is_upper(site_code(told.fold, wire)):
        return []
    return _in_runs(told, wire, "ivc", Remark("ivc", "look_again", asks="atrium"))


def _in_runs(told: Told, wire: str, result: str, remark: Remark) -> list[Found]:
    """Return a remark at the last of each run of a result."""
    looks = telling(told, wire)
    marks = [look.turn if look.result == result else None for look in looks]
    found = []
    for first, last in runs(marks):
        row = looks[last].row
        ids = in_order(told.fold, [one.row.id for one in looks[first : last + 1]])
        stands = last == len(looks) - 1 and still_lies(told, wire, when(row))
        found.append(Found(remark, row.path, wire, ids, stands))
    return found


def _contact_lost(told: Told, wire: str) -> list[Found]:
    """Say where contact was followed by a pattern without it, in one pass."""
    found: list[Found] = []
    contact: Look | None = None
    looks = telling(told, wire)
    for look in looks:
        if contact is not None and contact.turn != look.turn:
            contact = None
        if look.result == "rv_contact":
            contact = look
        elif contact is not None and look.result in _NO_CONTACT:
            ids = in_order(told.fold, (contact.row.id, look.row.id))
            stands = still_lies(told, wire, when(look.row)) and not any(
                one.result == "rv_contact" and when(one.row) > when(look.row)
                for one in looks
            )
            remark = Remark("contact_lost", "look_again")
            found.append(Found(remark, look.row.path, wire, ids, stands))
            contact = None
    return found


def _p_waves(told: Told, wire: str) -> list[Found]:
    """Say that an atrial pattern was read where there are said to be no P waves."""
    path = f"wires/{wire}/advance.p_waves"
    if one_answer(told.fold, path) != "none":
        return []
    rows = [look.row for look in telling(told, wire) if look.result in ATRIAL]
    if not rows:
        return []
    said = [i for head in told.fold["values"][path] for i in head["entries"]]
    ids = in_order(told.fold, [*said, *(row.id for row in rows)])
    return [Found(Remark("p_waves_contradict", "look_again"), path, wire, ids)]


def _contact(told: Told, wire: str) -> list[Found]:
    """Tell of the last reading that it shows contact, and what that does not prove."""
    looks = telling(told, wire)
    if not looks or looks[-1].result != "rv_contact" or looks[-1].depth is None:
        return []
    row = looks[-1].row
    if not still_lies(told, wire, when(row)):
        return []
    values = {"depth": decimal(looks[-1].depth)}
    return [at_row(Remark("contact", "fits", values), row, wire)]
