"""What can be is what the catalogue says, and in another unit the same converted."""

from __future__ import annotations

from fractions import Fraction

import pytest

from webapp.catalogue import CATALOGUE
from webapp.catalogue.units import converted
from webapp.clinical.labs_remarks import SOFT_POTASSIUM
from webapp.clinical.plausible import HARD_OF

FIELDS = {
    **{
        name: ("patient.laboratory", name)
        for name in ("potassium", "magnesium", "inr", "platelets", "ph")
    },
    **{name: (f"patient.{name}", "") for name in ("temperature", "weight", "height")},
}
# Molar masses, g/mol: IUPAC standard atomic weights 2021.
MOLAR = {"potassium": Fraction("39.0983"), "magnesium": Fraction("24.305")}


def field_of(name):
    path, child = FIELDS[name]
    field = CATALOGUE.field(path)
    return field.child(child) if child else field


@pytest.mark.parametrize("name", HARD_OF)
def test_the_first_unit_has_the_hard_range_of_the_catalogue(name):
    field = field_of(name)
    assert list(HARD_OF[name]) == (list(field.units) or [""])
    low, high = HARD_OF[name][next(iter(HARD_OF[name]))]
    assert (low, high) == (Fraction(field.hard.low), Fraction(field.hard.high))


@pytest.mark.parametrize("name", MOLAR)
def test_a_range_per_decilitre_is_the_same_by_molar_mass(name):
    per_litre, per_decilitre = HARD_OF[name]["mmol/L"], HARD_OF[name]["mg/dL"]
    factor = MOLAR[name] / 10
    assert per_decilitre == tuple(end * factor for end in per_litre)


def test_a_range_in_fahrenheit_is_the_same_in_celsius():
    for cel, degf in zip(*HARD_OF["temperature"].values(), strict=True):
        found = converted(str(float(degf)), "[degF]", "Cel")
        assert found is not None
        assert Fraction(found) == cel


def test_potassium_is_remarked_beyond_the_soft_range_of_the_catalogue():
    soft = field_of("potassium").soft
    assert (Fraction(soft.low), Fraction(soft.high)) == SOFT_POTASSIUM


def test_checks_and_removal_ask_in_the_same_units_and_ranges():
    checks = CATALOGUE.field("wires/w/checks.check")
    told = {n: checks.child(n) for n in ("temperature", "potassium")}
    told |= {n: CATALOGUE.field(f"wires/w/removal.{n}") for n in ("inr", "platelets")}
    for name, field in told.items():
        assert (field.units, field.hard) == (field_of(name).units, field_of(name).hard)
