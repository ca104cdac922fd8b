"""What was given of each drug in all, for screens and note.

Source: fixtures/sources.md#clinical-17: a dose not stated leaves "at least".
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.clinical.amounts import (
    HUNDREDTH,
    MG_PER,
    NONE,
    Amount,
    amount,
    mass_mg,
    raised,
    weight_kg,
)
from webapp.clinical.evidence import in_order
from webapp.clinical.rows import Row, rows_of

PATH = "indication.drugs_given"
# Amounts of the catalogue that add up in their own unit; rates by time do not.
_OWN_UNITS = ("mL", "L", "mmol", "meq", "[IU]")


@dataclass(frozen=True, slots=True)
class DrugTotal:
    """`total`: exact decimal in `unit`, None where no dose is known; `at_least`: more
    was given than is stated, an infusion included. `doses`: rows of this drug.
    """

    drug: str
    total: str | None
    unit: str
    at_least: bool
    doses: int
    ids: tuple[str, ...]


def drug_totals(fold: dict[str, Any]) -> tuple[DrugTotal, ...]:
    """Return the totals in the order first given; drugs named in words are left out."""
    weight = weight_kg(fold)
    by_drug: dict[str, list[Row]] = {}
    for row in rows_of(fold, PATH):
        drug = row.value.get("drug")
        if isinstance(drug, str):
            by_drug.setdefault(drug, []).append(row)
    return tuple(_total(drug, rows, weight) for drug, rows in by_drug.items())


def _total(drug: str, rows: list[Row], weight: Amount) -> DrugTotal:
    told = [_dose(row, weight) for row in rows]
    units = [unit for unit, dose in told if dose.low is not None]
    unit = units[0] if units else ""
    added = [dose for own, dose in told if own == unit and dose.low is not None]
    total = sum((dose.low or NONE for dose in added), NONE)
    whole = len(added) == len(rows) and all(dose.is_exact for dose in added)
    shown = raised(total, HUNDREDTH) if added else None
    return DrugTotal(drug, shown, unit, not whole, len(rows), in_order(rows))


def _dose(row: Row, weight: Amount) -> tuple[str, Amount]:
    value = row.value.get("dose")
    unit = value.get("unit") if isinstance(value, dict) else None
    if unit in _OWN_UNITS:
        return str(unit), amount(value, str(unit))
    if isinstance(unit, str) and unit.removesuffix("/kg") in MG_PER:
        return "mg", mass_mg(value, weight)
    return "", Amount()
