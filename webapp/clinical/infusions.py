"""Infusions held against the ranges of the guideline; adults only.

mL/h becomes a dose only with a stated concentration, a dose per kg only with a weight.
Source: fixtures/sources.md#clinical-17, #domain-1.
"""

from __future__ import annotations

import re
from fractions import Fraction

from webapp.clinical.amounts import (
    HUNDREDTH,
    MG_PER,
    Amount,
    amount,
    cut,
    raised,
    weight_kg,
)
from webapp.clinical.exact import decimal, number
from webapp.clinical.found import Found
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import Row, rows_of
from webapp.clinical.told import Told

PATH = "indication.drugs_given"
# domain 1c: dopamine, adrenaline and isoprenaline found-2, dobutamine from memory.
RANGES: dict[str, dict[str, tuple[Fraction, Fraction]]] = {
    "dopamine": {"ug/kg/min": (Fraction(5), Fraction(20))},
    "adrenaline": {
        "ug/min": (Fraction(2), Fraction(10)),
        "ug/kg/min": (Fraction(1, 10), Fraction(1, 2)),
    },
    "isoprenaline": {"ug/min": (Fraction(1), Fraction(20))},
    "dobutamine": {"ug/kg/min": (Fraction(2), Fraction(20))},
}
_SHOWN = {"ug/min": "µg/min", "ug/kg/min": "µg/kg/min"}
_UG_PER_MG = Fraction(1000)
_UG_PER_MIN = {
    "ug/min": Fraction(1),
    "mg/min": _UG_PER_MG,
    "mg/h": _UG_PER_MG / 60,
}
_HOUR_MIN = Fraction(60)
# "400 mg in 250 mL", "80 ug/mL": the whole text, or it states no concentration.
_CONCENTRATION = re.compile(
    r" *([0-9.]{1,12}) ?(ug|mcg|µg|mg|g) ?(?:/|in|per) ?(?:([0-9.]{1,12}) ?)?m[Ll] *"
)


def infusion_remarks(told: Told) -> list[Found]:
    """Return each infusion outside its range, or in mL/h without a concentration."""
    if not told.age.is_adult:
        return []
    weight = weight_kg(told.fold)
    found = [
        (row, remark)
        for row in rows_of(told.fold, PATH)
        if isinstance(row.value.get("drug"), str)
        and row.value["drug"] in RANGES
        and (remark := _remark(row, row.value["drug"], weight)) is not None
    ]
    return [Found(remark, PATH, "", (row.id,)) for row, remark in found]


def concentration(text: object) -> Fraction | None:
    """Return a stated concentration in µg/mL, None where the text states none."""
    match = _CONCENTRATION.fullmatch(text) if isinstance(text, str) else None
    if match is None:
        return None
    mass, volume = number(match[1]), number(match[3] or "1")
    unit = match[2] if match[2] in MG_PER else "ug"
    if mass is None or not volume:
        return None
    return mass * MG_PER[unit] * _UG_PER_MG / volume


def _remark(row: Row, drug: str, weight: Amount) -> Remark | None:
    value = row.value.get("dose")
    if amount(value, "mL/h").low is not None and not concentration(
        row.value.get("which")
    ):
        return Remark("infusion_no_strength", "look_again")
    for unit, (low, high) in RANGES[drug].items():
        dose = _dose(row, unit, weight)
        if dose.low is not None and dose.low > high:
            shown = raised(dose.low, HUNDREDTH)
        elif dose.high is not None and dose.high < low:
            shown = cut(dose.high, HUNDREDTH)
        elif dose.low is not None or dose.high is not None:
            return None
        else:
            continue
        bounds = {"low": decimal(low), "high": decimal(high)}
        values = {"dose": shown, **bounds, "unit": _SHOWN[unit]}
        return Remark(f"infusion_{drug}", "look_again", values)
    return None


def _dose(row: Row, unit: str, weight: Amount) -> Amount:
    """Return the dose in a unit; said so, or worked out per kg or from mL/h."""
    value = row.value.get("dose")
    said = amount(value, unit)
    if said.low is not None or said.high is not None:
        return said
    per_min = _per_min(row)
    if unit == "ug/min":
        return per_min
    return per_min.in_each_kg(weight)


def _per_min(row: Row) -> Amount:
    value = row.value.get("dose")
    for unit, factor in _UG_PER_MIN.items():
        said = amount(value, unit)
        if said.low is not None or said.high is not None:
            return said.times(factor)
    stated = concentration(row.value.get("which"))
    if stated is None:
        return Amount()
    return amount(value, "mL/h").times(stated / _HOUR_MIN)
