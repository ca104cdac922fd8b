"""Too far without a change of chamber, and rings that say another depth.

Source: fixtures/sources.md#clinical-3. The distance is from pulmonary artery catheters.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.deep import still_lies
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found
from webapp.clinical.read_at import AT_HUB
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import one_answer, point
from webapp.clinical.sites import site_code, site_side
from webapp.clinical.told import Told
from webapp.clinical.way import Look, in_order, looks_of, runs, when

_KEY = "coil_advance_without_change_cm"
# Before the atrium a wire from below or from the arm has a long vein to pass.
_ENTRY_VEIN = {"femoral": "ivc", "arm": "svc"}
# domain 2e: ring n lies n times 10 cm from the tip; clinical 3: 1 cm may differ.
RING_CM = Fraction(10)
RINGS_DIFFER_CM = Fraction(1)


class _Run:
    """How far a wire went since its chamber last changed; like with like only.

    A new pass changes no chamber: what was shallowest in this one stays the origin.
    """

    def __init__(self, entry_vein: str) -> None:
        self.entry_vein = entry_vein
        self.chamber, self.counts = "", False
        self.origins: dict[str, tuple[Fraction, str]] = {}

    def further(self, look: Look) -> tuple[Fraction, str] | None:
        """Take a reading; return how far from the origin, and the origin's entry."""
        if look.chamber and look.chamber != self.chamber:
            self.chamber, self.origins = look.chamber, {}
        if look.chamber == "ra":
            self.counts = True
        elif look.chamber and look.chamber == self.entry_vein:
            self.counts = False
        if look.depth is None:
            return None
        origin = self.origins.get(look.read_at)
        if origin is None or look.depth < origin[0]:
            origin = self.origins[look.read_at] = (look.depth, look.row.id)
        return (look.depth - origin[0], origin[1]) if self.counts else None


def coil(told: Told, wire: str) -> list[Found]:
    """Return where a wire went too far in one chamber, counted from the atrium on."""
    bound = number(told.limits.get(_KEY))
    if bound is None:
        return []
    site, _ = site_side(site_code(told.fold, wire))
    run, looks = _Run(_ENTRY_VEIN.get(site, "")), looks_of(told.fold, wire)
    told_far = [run.further(look) for look in looks]
    far = [one if one and one[0] > bound else None for one in told_far]
    marks = [
        None if one is None else (one[1], look.turn)
        for one, look in zip(far, looks, strict=True)
    ]
    found = []
    for first, last in runs(marks):
        one = far[last]
        if one is None:
            continue
        ids = [one[1], *(look.row.id for look in looks[first : last + 1])]
        remark = Remark(
            "coil", "look_now", {"advance": decimal(one[0])}, (_KEY,), "coil"
        )
        row = looks[last].row
        stands = last == len(looks) - 1 and still_lies(told, wire, when(row))
        ids_in_order = in_order(told.fold, ids)
        found.append(Found(remark, row.path, wire, ids_in_order, stands))
    return found


def depth_by_rings(rings: object, beyond: object) -> Fraction | None:
    """Return the depth that rings outside the hub tell: 4 rings, 6 cm out give 34.

    `rings`: how many marks the first ring outside has; None where it tells no depth.
    """
    count = number(rings.get("n")) if isinstance(rings, dict) else None
    if not isinstance(rings, dict) or "cmp" in rings or count is None:
        return None
    out = number(point(beyond, "cm").n)
    if out is None or count < 1 or count.denominator != 1:
        return None
    return count * RING_CM - out


def rings_disagree(told: Told, wire: str) -> list[Found]:
    """Return where rings and called depth differ by more than 1 cm, at the hub."""
    ring_code = one_answer(told.fold, f"wires/{wire}/approach.wire_ring_code")
    if ring_code != "every_10_cm":
        return []
    looks = looks_of(told.fold, wire)
    found = []
    for look in looks:
        value = look.row.value
        by_rings = depth_by_rings(value.get("rings_out"), value.get("cm_beyond"))
        if by_rings is None or look.depth is None:
            continue
        if look.read_at != AT_HUB:
            continue
        if abs(by_rings - look.depth) <= RINGS_DIFFER_CM:
            continue
        values = {
            "rings": value["rings_out"]["n"],
            "out": value["cm_beyond"]["n"],
            "by_rings": decimal(by_rings),
            "depth": decimal(look.depth),
        }
        remark = Remark("rings_disagree", "look_again", values)
        stands = look is looks[-1] and still_lies(told, wire, when(look.row))
        found.append(Found(remark, look.row.path, wire, (look.row.id,), stands))
    return found
