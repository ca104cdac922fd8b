"""Amounts of drugs: what a value says for certain, in mg, and how it is written."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.clinical.certain import certain_ends
from webapp.clinical.exact import decimal
from webapp.clinical.rows import ends_of, one_answer

# Prefixes of the catalogue's units, in mg.
MG_PER = {"g": Fraction(1000), "mg": Fraction(1), "ug": Fraction(1, 1000)}
# Steps of the catalogue: of a volume, of a dose.
TENTH = Fraction(1, 10)
HUNDREDTH = Fraction(1, 100)
NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class Amount:
    """`low`: not less than this, None where nothing is known; `high`: not more."""

    low: Fraction | None = None
    high: Fraction | None = None

    @property
    def is_exact(self) -> bool:
        """Tell whether it is one number."""
        return self.low is not None and self.low == self.high

    def times(self, factor: Fraction) -> Amount:
        """Return it as many times over."""
        return Amount(
            None if self.low is None else self.low * factor,
            None if self.high is None else self.high * factor,
        )

    def per_kg(self, weight: Amount) -> Amount:
        """Return it for a weight in kg, from the lightest to the heaviest."""
        return Amount(_product(self.low, weight.low), _product(self.high, weight.high))

    def in_each_kg(self, weight: Amount) -> Amount:
        """Return what each kg of a weight gets of it; weights are never nothing."""
        most = None if weight.low is None else 1 / weight.low
        least = None if weight.high is None else 1 / weight.high
        return Amount(_product(self.low, least), _product(self.high, most))


def _product(one: Fraction | None, other: Fraction | None) -> Fraction | None:
    return None if one is None or other is None else one * other


def amount(value: Any, *units: str) -> Amount:
    """Return what a quantity says in one of these units; below nothing: nothing."""
    for unit in units:
        low, high = ends_of(value, unit)
        if any(end is not None and end < NONE for end in (low, high)):
            return Amount()
        if low is not None or high is not None:
            return Amount(low, high)
    return Amount()


def weight_kg(fold: dict[str, Any]) -> Amount:
    """Return what is known of the patient's weight."""
    return Amount(*certain_ends(one_answer(fold, "patient.weight"), "kg"))


def mass_mg(value: Any, weight: Amount) -> Amount:
    """Return a dose in mg; one per kg only with a weight, in kg."""
    unit = value.get("unit") if isinstance(value, dict) else None
    if not isinstance(unit, str) or unit.removesuffix("/kg") not in MG_PER:
        return Amount()
    said = amount(value, unit).times(MG_PER[unit.removesuffix("/kg")])
    return said.per_kg(weight) if unit.endswith("/kg") else said


def cut(value: Fraction, step: Fraction = TENTH) -> str:
    """Return what is there, never more: cut to the step, without needless zeros."""
    return decimal(value // step * step)


def raised(value: Fraction, step: Fraction = TENTH) -> str:
    """Return what was given, never less: raised to the step."""
    return decimal(-(-value // step) * step)
