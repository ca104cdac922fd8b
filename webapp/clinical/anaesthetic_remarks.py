"""What is found about the local anaesthetic: sum, limit, and why to stay below.

Source: fixtures/sources.md#clinical-16, #domain-7.
"""

from __future__ import annotations

from webapp.clinical.anaesthetic import (
    DRUGS,
    PATH,
    AnaestheticSum,
    anaesthetic_sum,
)
from webapp.clinical.evidence import in_order
from webapp.clinical.found import Found
from webapp.clinical.remarks import Remark, Weight
from webapp.clinical.rows import rows_of
from webapp.clinical.told import Told


def anaesthetic_remarks(told: Told) -> list[Found]:
    """Return the remarks on lidocaine, then on agents without a limit."""
    found = anaesthetic_sum(told)
    local = rows_of(told.fold, PATH)
    path = PATH if local else DRUGS
    remarks = [Found(one, path, "", found.ids) for one in _lidocaine(found)]
    if found.others:
        mixed = bool(found.ids) and found.fraction is not None
        code = "anaesthetic_mixed" if mixed else "anaesthetic_no_limit"
        values = {"fraction": found.fraction or ""} if mixed else {}
        remark = Remark(code, "look_again", values)
        others = [row for row in local if row.value.get("agent") != "lidocaine"]
        remarks.append(Found(remark, PATH, "", in_order(others)))
    return remarks


def _lidocaine(found: AnaestheticSum) -> list[Remark]:
    if not found.ids:
        return []
    values = {"given": found.given_mg, "limit": found.limit_mg or ""}
    if found.limit_mg is None:
        return [Remark("anaesthetic_needs_weight", "look_again", values)]
    if found.is_over:
        return [Remark("anaesthetic_over", "look_now", values, found.limits)]
    # Labels give no number for "less": no dose can be called fitting there.
    checks = {
        "anaesthetic_at_least": found.at_least,
        "anaesthetic_cap_only": not found.weight_known,
        "anaesthetic_expect_less": bool(found.reduce),
    }
    again: Weight = "look_again"
    remarks = [
        Remark(code, again, values, found.limits)
        for code, is_so in checks.items()
        if is_so
    ]
    if remarks:
        return remarks
    if found.left_ml is None:
        return [Remark("anaesthetic_vein", "fits", values, found.limits)]
    values |= {"left": found.left_ml, "strength": found.strength}
    return [Remark("anaesthetic_within", "fits", values, found.limits)]
