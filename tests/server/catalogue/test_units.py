"""The ways between units against the ucumvert package, and every unit in use."""

from __future__ import annotations

import warnings
from collections.abc import Iterator

import pytest

from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field
from webapp.catalogue.units import _TO_BASE, converted, shown_unit

with warnings.catch_warnings():
    # The package's own imports warn; that is no concern of ours.
    warnings.simplefilter("ignore")
    from ucumvert import PintUcumRegistry

    UCUM = PintUcumRegistry()

PAIRS = [
    (one, other)
    for one, (dimension, _, _) in _TO_BASE.items()
    for other, (same, _, _) in _TO_BASE.items()
    if dimension == same and one != other
]


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_every_conversion_agrees_with_ucumvert(one: str, other: str) -> None:
    # Source: PyPI ucumvert (UCUM grammar over pint). Its mmHg differs from UCUM's own
    # table (133.3220 Pa) in the seventh figure, hence the tolerance.
    theirs = UCUM.Quantity(37, UCUM.from_ucum(one).units).to(
        UCUM.from_ucum(other).units
    )
    ours = converted("37", one, other)
    assert ours is not None
    assert float(ours) == pytest.approx(theirs.magnitude, rel=1e-5)


def test_there_is_no_fixed_way_between_mass_and_amount_of_a_substance() -> None:
    assert converted("7.3", "mg/dL", "mmol/L") is None
    assert converted("7.3", "meq/L", "mmol/L") is None


def every_field() -> Iterator[Field]:
    """Yield each field of the catalogue and each child."""
    for part in CATALOGUE.parts:
        for field in part.fields():
            yield field
            yield from field.children


UNITS = sorted({unit for field in every_field() for unit in field.units})


@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_of_the_catalogue_is_shown_without_code_signs(unit: str) -> None:
    assert not set("[]{}*") & set(shown_unit(unit))
