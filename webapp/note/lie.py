"""How a wire lies, from its final depth, its readings and its kit."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from webapp.clinical.exact import number
from webapp.clinical.over import has_own_story
from webapp.note.casewords import cell, code_of, row_time
from webapp.note.figures_amount import amount_of
from webapp.note.ruler import DepthMark, WireLie
from webapp.record.case import Case, Row, Wire, state_of

# ux.md 7: 60 cm neck, 75 femoral, 90 arm; other sites as the neck.
WIRE_NOT_IN = ("given_up_wire_out", "not_started")
NECK_CM, FEMORAL_CM, ARM_CM = 60, 75, 90


def wire_lie(case: Case, wire: Wire, day: str) -> WireLie:
    """Return what the depth ruler draws for one wire."""
    rows = case.rows(case.wire_path(wire, "advance.depth_reading"))
    read = [_mark(row, day) for row in rows if cell(row, "depth", day)]
    marks = [m for m in read if m is not None]
    final = case.answer(case.wire_path(wire, "advance.final_depth"))
    final_cm = depth_cm(final.value) if final.state == "answered" else None
    is_double = final.state in ("two_answers", "impossible")
    is_out = case.answer("finish.outcome").value in WIRE_NOT_IN
    # Beside other wires the outcome does not end one that came, or was left in.
    is_out = is_out and not (len(case.wires) > 1 and has_own_story(case.fold, wire.id))
    # The depth told last, figure or not: an older one would be drawn as where it is.
    newest = read[-1] if read and not is_double and not is_out else None
    last = newest.depth_cm if newest else None
    return WireLie(
        marks=tuple(marks),
        tip_cm=final_cm if final_cm is not None else last,
        is_final=final_cm is not None,
        has_rings=_has_rings(case, wire),
        scale_cm=_scale_cm(case, wire),
        undrawn=len(rows) - len(marks),
    )


def depth_cm(value: Any) -> Fraction | None:
    """Return a plain depth in cm, or None for a range, a bound or another unit."""
    if not isinstance(value, dict) or value.get("unit") != "cm":
        return None
    if not {"low", "cmp", "special"}.isdisjoint(value):
        return None
    return number(value.get("n"))


def _mark(row: Row, day: str) -> DepthMark | None:
    field = row.field.child("depth") if row.field else None
    depth = depth_cm(row.get("depth"))
    if (
        depth is None
        or field is None
        or state_of(field, row.value["depth"]) != "answered"
    ):
        return None
    shown, _ = amount_of(row.value["depth"])
    return DepthMark(depth, shown, cell(row, "result", day), row_time(row, day))


def _has_rings(case: Case, wire: Wire) -> bool:
    """Return whether the kit's ring code says that rings stand 10 cm apart."""
    code = case.answer(case.wire_path(wire, "approach.wire_ring_code"))
    return code.state == "answered" and code.value == "every_10_cm"


def _scale_cm(case: Case, wire: Wire) -> int:
    site = code_of(case.answer(case.wire_path(wire, "approach.site")).value)
    if site.startswith("femoral"):
        return FEMORAL_CM
    return ARM_CM if site.startswith("arm") else NECK_CM
