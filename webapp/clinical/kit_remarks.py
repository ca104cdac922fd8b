"""What is found about sheath, wire, balloon volume and dilator.

Source: fixtures/sources.md#clinical-2.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.balloon_volume import balloon_volume
from webapp.clinical.evidence import entries_of
from webapp.clinical.found import Found
from webapp.clinical.kit import LEAK_KEY, kit_fit
from webapp.clinical.over import heads, is_over
from webapp.clinical.remarks import Remark, Weight
from webapp.clinical.rows import moment_ms, one_answer, point
from webapp.clinical.told import Told

# The catalogue's hard ranges, French.
HARD_SHEATH_FR = (Fraction(3), Fraction(14))
# The catalogue's too.
HARD_WIRE_FR = (Fraction(2), Fraction(8))
_DILATOR = "approach.dilator_at"
_PROOF = "approach.venous_proof"
_PROOF_AT = "approach.venous_proof_at"
_FR = "[Ch]"


def kit_remarks(told: Told) -> list[Found]:
    """Return the dilator's order in the case, then each wire's remarks on its kit."""
    wires = [
        found
        for wire in told.wires
        for part in (_fit, _no_side_port, balloon_volume)
        for found in part(told, wire)
    ]
    return [*_dilator(told), *wires]


def _fit(told: Told, wire: str) -> list[Found]:
    """Say whether the wire passes its sheath, and whether blood may leak round it."""
    under = f"wires/{wire}/approach"
    paths = (f"{under}.introducer_fr", f"{under}.wire_fr")
    sheath = point(one_answer(told.fold, paths[0]), _FR, HARD_SHEATH_FR).n
    thick = point(one_answer(told.fold, paths[1]), _FR, HARD_WIRE_FR).n
    fit = kit_fit(sheath, thick, told.limits)
    stands = not is_over(told.fold, wire)
    if not fit or sheath is None or thick is None or (fit == "fits" and not stands):
        return []
    values = {"sheath": sheath, "wire": thick}
    keys = () if fit == "does_not_pass" else (LEAK_KEY,)
    weight: Weight = "fits" if fit == "fits" else "look_again"
    remark = Remark(f"kit_{fit}", weight, values, keys)
    ids = entries_of(told.fold, paths)
    return [Found(remark, paths[1], wire, ids, stands)]


def _no_side_port(told: Told, wire: str) -> list[Found]:
    """Say that a vasopressor is meant for a line without a side port."""
    under = f"wires/{wire}/approach"
    paths = (f"{under}.introducer_vasopressor", f"{under}.introducer_side_port")
    if "yes" not in heads(told.fold, paths[0]) or "no" not in heads(
        told.fold, paths[1]
    ):
        return []
    remark = Remark("vasopressor_no_side_port", "look_again", asks="side_port")
    ids = entries_of(told.fold, paths)
    return [Found(remark, paths[0], wire, ids, not is_over(told.fold, wire))]


def _dilator(told: Told) -> list[Found]:
    """Say that the dilator went in before the vein was proven.

    Where the vein is proven but its moment is not known, the order is not judged.
    """
    dilator = one_answer(told.fold, _DILATOR)
    if dilator is None:
        return []
    dilated_ms = moment_ms(dilator)
    proven_ms = moment_ms(one_answer(told.fold, _PROOF_AT))
    if proven_ms is not None:
        if dilated_ms is None or dilated_ms >= proven_ms:
            return []
    elif _is_proven(told):
        return []
    remark = Remark("dilator_before_proof", "look_now", asks="venous_proof")
    ids = entries_of(told.fold, (_DILATOR, _PROOF, _PROOF_AT))
    goes_on = not told.wires or any(not is_over(told.fold, w) for w in told.wires)
    return [Found(remark, _DILATOR, "", ids, goes_on and proven_ms is None)]


def _is_proven(told: Told) -> bool:
    """Tell whether any way of proving the vein was said, its moment aside."""
    answers = heads(told.fold, _PROOF)
    ways = [w for one in answers for w in (one if isinstance(one, list) else [one])]
    return any(way != "none" for way in ways)
