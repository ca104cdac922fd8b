"""Atropine: single doses, the total, and where it does harm.

Source: fixtures/sources.md#clinical-17, #clinical-15, #domain-1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from webapp.clinical.ages import Size, size_of
from webapp.clinical.amounts import (
    HUNDREDTH,
    NONE,
    Amount,
    cut,
    mass_mg,
    raised,
    weight_kg,
)
from webapp.clinical.evidence import entries_of, in_order
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found
from webapp.clinical.over import heads
from webapp.clinical.policy_rows import Row as LimitRow
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told

PATH = "indication.drugs_given"
_TRANSPLANT = "indication.caution_heart_transplant"
# Ways by which little or nothing reaches the blood at once.
_ELSEWHERE = ("by_mouth", "inhaled", "skin")
# Where the rows of children part (clinical 24: under 12, 12 to 17).
_ADOLESCENT_YEARS = Fraction(12)


@dataclass(frozen=True, slots=True)
class Bounds:
    """What one dose and all doses are held against, mg; None is silent.

    `low`, `high`: of one dose; `keys`: the policy rows of one dose, then of the total.
    """

    low: Fraction | None
    high: Fraction | None
    total: Fraction | None
    keys: tuple[tuple[str, ...], tuple[str, ...]]


def atropine_remarks(told: Told) -> list[Found]:
    """Return the remarks on every dose, then on the total."""
    rows = [
        row
        for row in rows_of(told.fold, PATH)
        if row.value.get("drug") == "atropine"
        and row.value.get("route") not in _ELSEWHERE
    ]
    weight = weight_kg(told.fold)
    doses = [(row, mass_mg(row.value.get("dose"), weight)) for row in rows]
    bounds = atropine_bounds(told, weight.low)
    single = [one for row, dose in doses for one in _single(row, dose, bounds)]
    return [*_harm(told, rows), *single, *_total(told, doses, bounds)]


def atropine_bounds(told: Told, weight: Fraction | None) -> Bounds:
    """Return the limits for this age. Without an age a child by size has none."""
    rows = told.policy.rows
    if told.age.is_adult:
        keys = ("atropine_single_min_mg", "atropine_single_max_mg")
        total = "atropine_total_max_mg"
        low, high, most = (number(told.limits.get(k)) for k in (*keys, total))
        return Bounds(low, high, most, (keys, (total,)))
    size = size_of(told.fold)
    if _is_under_12(size):
        name, total = "atropine_child_single_mg", "atropine_child_total_mg"
        low, high = (number(text) for text in rows[name].values)
    elif size.years is not None or size.by_look == "adolescent":
        name, total = "atropine_adolescent_single_mg", "atropine_adolescent_total_mg"
        low, high = None, number(rows[name].value)
    else:
        return Bounds(None, None, None, ((), ()))
    high = _by_weight(rows, weight, low, high)
    by_weight = () if weight is None else ("atropine_child_mg_per_kg",)
    keys = (*by_weight, name)
    return Bounds(low, high, number(rows[total].value), (keys, (total,)))


def _is_under_12(size: Size) -> bool:
    if size.years is not None:
        return size.years < _ADOLESCENT_YEARS
    return size.by_look in ("newborn", "infant", "child")


def _by_weight(
    rows: Mapping[str, LimitRow],
    weight: Fraction | None,
    low: Fraction | None,
    high: Fraction | None,
) -> Fraction | None:
    """Return the highest single dose of a child: by weight, never under the lowest."""
    per_kg = number(rows["atropine_child_mg_per_kg"].value)
    if weight is None or per_kg is None or high is None:
        return high
    return max(low or NONE, min(high, per_kg * weight))


def _harm(told: Told, rows: list[Row]) -> list[Found]:
    if "yes" not in heads(told.fold, _TRANSPLANT):
        return []
    evidence = entries_of(told.fold, (_TRANSPLANT,), rows)
    # Said before the first dose too: afterwards it comes too late.
    path = PATH if rows else _TRANSPLANT
    return [Found(Remark("atropine_transplant", "look_now"), path, "", evidence)]


def _single(row: Row, dose: Amount, bounds: Bounds) -> list[Found]:
    low, high, keys = bounds.low, bounds.high, bounds.keys[0]
    if dose.low is not None and high is not None and dose.low > high:
        values = {"dose": raised(dose.low, HUNDREDTH), "high": decimal(high)}
        remark = Remark("atropine_single_high", "look_again", values, keys)
    elif dose.high is not None and low is not None and dose.high < low:
        values = {"dose": cut(dose.high, HUNDREDTH), "low": decimal(low)}
        remark = Remark("atropine_single_low", "look_again", values, keys)
    else:
        return []
    return [Found(remark, PATH, "", (row.id,))]


def _total(told: Told, doses: list[tuple[Row, Amount]], bounds: Bounds) -> list[Found]:
    """Compare the sum; a dose that is not stated leaves "at least", and no total."""
    if not doses:
        return []
    total = sum((dose.low or NONE for _, dose in doses), NONE)
    is_whole = all(dose.is_exact for _, dose in doses)
    values = {"total": raised(total, HUNDREDTH)}
    remarks: list[Remark] = []
    if not is_whole:
        code = "atropine_at_least" if total else "atropine_no_total"
        remarks.append(Remark(code, "look_again", values if total else {}))
    poisoned = "yes" in heads(told.fold, "indication.caution_organophosphate")
    if bounds.total is not None and total > bounds.total and not poisoned:
        values = {**values, "limit": decimal(bounds.total)}
        remarks.append(Remark("atropine_total", "look_again", values, bounds.keys[1]))
    evidence = in_order(row for row, _ in doses)
    return [Found(one, PATH, "", evidence) for one in remarks]
