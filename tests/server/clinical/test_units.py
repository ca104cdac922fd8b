"""What is worked out between units, against an independent library of units.

Source of the library: PyPI ucumvert 0.3.2 (a parser made from UCUM's grammar, over
pint). It knows no code of ours; ours knows nothing of it.
"""

from __future__ import annotations

import warnings
from fractions import Fraction
from typing import Any

import pytest

from webapp.clinical import electrical
from webapp.clinical.amounts import MG_PER, Amount, mass_mg
from webapp.clinical.anaesthetic import MG_ML_PER_PERCENT
from webapp.clinical.exact import decimal
from webapp.clinical.infusions import _HOUR_MIN, _UG_PER_MIN, concentration
from webapp.clinical.kit import outer_diameter_mm

with warnings.catch_warnings():
    # The package's own imports warn; that is no concern of ours.
    warnings.simplefilter("ignore")
    from ucumvert import PintUcumRegistry

    UCUM = PintUcumRegistry()


def theirs(value: object, unit: str, to: str) -> float:
    """Return a value in another unit, as the library has it."""
    told = UCUM.Quantity(float(str(value)), UCUM.from_ucum(unit).units)
    return float(told.to(UCUM.from_ucum(to).units).magnitude)


def near(value: float) -> Any:
    return pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize("fr", ["3", "4", "5", "6", "7", "8.5", "9", "14"])
def test_a_french_size_is_a_third_of_a_millimetre(fr: str) -> None:
    shown = outer_diameter_mm(fr)
    assert shown is not None
    assert float(shown) == pytest.approx(theirs(fr, "[Ch]", "mm"), abs=0.005)


@pytest.mark.parametrize("unit", sorted(MG_PER))
def test_a_mass_is_told_in_mg(unit: str) -> None:
    said = mass_mg({"as": "0.6", "n": "0.6", "unit": unit}, Amount())
    assert said.is_exact
    assert float(said.low or 0) == near(theirs("0.6", unit, "mg"))


@pytest.mark.parametrize("unit", sorted(MG_PER))
def test_a_dose_by_weight_is_told_in_mg(unit: str) -> None:
    weight = Amount(Fraction(73), Fraction(73))
    said = mass_mg({"as": "1.5", "n": "1.5", "unit": f"{unit}/kg"}, weight)
    product = UCUM.Quantity(1.5, UCUM.from_ucum(f"{unit}/kg").units) * UCUM.Quantity(
        73, UCUM.from_ucum("kg").units
    )
    assert float(said.low or 0) == near(product.to("mg").magnitude)


@pytest.mark.parametrize("unit", sorted(_UG_PER_MIN))
def test_a_rate_of_infusion_is_told_in_micrograms_per_minute(unit: str) -> None:
    assert float(_UG_PER_MIN[unit]) == near(theirs(1, unit, "ug/min"))


@pytest.mark.parametrize(
    ("text", "mass", "unit", "volume"),
    [
        ("400 mg in 250 mL", 400, "mg", 250),
        ("80 ug/mL", 80, "ug", 1),
        ("1 g in 50 mL", 1, "g", 50),
        ("16 mcg per 1 mL", 16, "ug", 1),
    ],
)
def test_a_concentration_is_told_in_micrograms_per_millilitre(
    text: str, mass: float, unit: str, volume: float
) -> None:
    told = UCUM.Quantity(mass, UCUM.from_ucum(unit).units) / UCUM.Quantity(
        volume, UCUM.from_ucum("mL").units
    )
    assert float(concentration(text) or 0) == near(told.to("ug/mL").magnitude)


def test_millilitres_an_hour_are_a_sixtieth_a_minute() -> None:
    assert float(1 / _HOUR_MIN) == near(theirs(1, "mL/h", "mL/min"))


def test_one_percent_is_ten_milligrams_a_millilitre() -> None:
    # By definition a gram in 100 mL (domain 7a).
    assert float(MG_ML_PER_PERCENT) == near(theirs("0.01", "g/mL", "mg/mL"))


@pytest.mark.parametrize("unit", ["Ohm", "kOhm"])
def test_an_impedance_is_told_in_ohm(unit: str) -> None:
    found = electrical._OHM_PER[unit]
    assert float(found) == near(theirs(1, unit, "Ohm"))


PULSES = [
    ("1", "500", "0.5"),
    ("2", "500", "1.5"),
    ("5", "500", "1.8"),
    ("20", "750", "2"),
]


def quantities(current: str, ohm: str, width: str) -> tuple[Any, Any, Any]:
    return (
        UCUM.Quantity(float(current), "milliampere"),
        UCUM.Quantity(float(ohm), "ohm"),
        UCUM.Quantity(float(width), "millisecond"),
    )


@pytest.mark.parametrize(("current", "ohm", "width"), PULSES)
def test_volts_milliamps_charge_and_energy_are_those_of_the_library(
    current: str, ohm: str, width: str
) -> None:
    amps, ohms, seconds = quantities(current, ohm, width)
    i, r, t = Fraction(current), Fraction(ohm), Fraction(width)
    volts = electrical.volts(i, r)
    assert float(volts) == near((amps * ohms).to("volt").magnitude)
    assert decimal(electrical.milliamps(volts, r)) == current
    charge = (amps * seconds).to("microcoulomb").magnitude
    assert float(electrical.charge_uc(i, t)) == near(charge)
    energy = (amps * amps * ohms * seconds).to("microjoule").magnitude
    assert float(electrical.energy_uj(i, r, t)) == near(energy)
