"""Charge, energy, strength and duration: check values of domain 4g, exact."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.clinical_told import fold_of
from webapp.catalogue import CATALOGUE
from webapp.clinical import policy
from webapp.clinical.electrical import (
    HARD_OHM,
    USUAL_OHM,
    Electrical,
    charge_uc,
    electrical,
    energy_uj,
    milliamps,
    rheobase_ma,
    strength_factor,
    threshold_charge_uc,
    volts,
)

W1 = {"path": "wires", "id": "w1", "add": {}}
positive = st.fractions(Fraction(1, 100), 100)


def of(*told: dict[str, Any], wire: str = "w1") -> Electrical:
    return electrical(fold_of([W1, *told]), wire, policy.load())


def put(name: str, value: Any, wire: str = "w1") -> dict[str, Any]:
    return {"path": f"wires/{wire}/{name}", "set": value}


def add(name: str, wire: str = "w1", **value: Any) -> dict[str, Any]:
    return {"path": f"wires/{wire}/{name}", "add": value}


TEST = (
    add("capture.output_reading", output="1.0 mA", result="captures"),
    add("capture.output_reading", output="0.9 mA", result="no_capture"),
)
OHM = put("capture.impedance", "500 Ohm")
WIDTH = add("capture.generator", pulse_width="1.5 ms")


@pytest.mark.parametrize(
    ("current", "ohm", "expected"),
    [("1", "500", "0.5"), ("20", "500", "10")],  # domain 4g, Ohm
)
def test_volts_are_current_times_impedance(current, ohm, expected) -> None:
    found = volts(Fraction(current), Fraction(ohm))
    assert found == Fraction(expected)
    assert milliamps(found, Fraction(ohm)) == Fraction(current)


@pytest.mark.parametrize(
    ("current", "width", "expected"),
    [("1", "0.5", "0.5"), ("5", "1.8", "9.0")],  # domain 4g, charge
)
def test_charge_is_current_times_width(current, width, expected) -> None:
    assert charge_uc(Fraction(current), Fraction(width)) == Fraction(expected)


@pytest.mark.parametrize(
    ("current", "ohm", "width", "expected"),
    [
        ("1", "500", "0.5", "0.25"),  # domain 4g, energy
        ("2", "500", "1.5", "3.0"),
        ("5", "500", "1.8", "22.5"),
    ],
)
def test_energy_is_current_squared_times_impedance_times_width(
    current, ohm, width, expected
) -> None:
    found = energy_uj(Fraction(current), Fraction(ohm), Fraction(width))
    assert found == Fraction(expected)


@pytest.mark.parametrize(
    ("width", "expected"),
    [  # domain 4g, chronaxie 0.3 ms: 1 + 0.3 / width
        ("0.1", "4"),
        ("0.2", "2.5"),
        ("0.5", "1.6"),
        ("1.0", "1.3"),
        ("1.5", "1.2"),
        ("2.0", "1.15"),
    ],
)
def test_strength_falls_with_duration(width, expected) -> None:
    found = strength_factor(Fraction("0.3"), Fraction(width))
    assert found == Fraction(expected)


@given(positive)
def test_at_the_chronaxie_twice_the_rheobase_is_needed(chronaxie: Fraction) -> None:
    assert strength_factor(chronaxie, chronaxie) == 2
    assert strength_factor(chronaxie, 2 * chronaxie) == Fraction(3, 2)


@given(positive, positive, positive)
def test_threshold_charge_is_a_line_in_the_width(rheobase, chronaxie, width) -> None:
    at_none = threshold_charge_uc(rheobase, chronaxie, Fraction(0))
    assert at_none == rheobase * chronaxie
    needed = rheobase * strength_factor(chronaxie, width)
    assert threshold_charge_uc(rheobase, chronaxie, width) == charge_uc(needed, width)
    assert rheobase_ma(needed, chronaxie, width) == rheobase


@given(positive, positive)
def test_the_least_energy_is_needed_at_the_chronaxie(chronaxie, width) -> None:
    """Domain 4g: hyperbolic form, minimum at PW = c."""

    def energy(at: Fraction) -> Fraction:
        needed = strength_factor(chronaxie, at)
        return energy_uj(needed, Fraction(500), at)

    assert energy(chronaxie) <= energy(width)


def test_a_threshold_in_milliamps_with_impedance_and_width() -> None:
    """1.0 mA, 500 Ohm, 1.5 ms: 0.5 V, 1.5 µC, 0.75 µJ; 1 / 1.2 and 1 / (7/3)."""
    found = of(OHM, WIDTH, *TEST).pulses[0]
    assert (found.of, found.unit, found.read) == ("threshold", "mA", 1)
    assert found.other == Fraction("0.5")
    assert found.charge_uc == Fraction("1.5")
    assert found.energy_uj == Fraction("0.75")
    told = dict(found.rheobase_ma)
    assert told == {Fraction("0.3"): Fraction(5, 6), Fraction(2): Fraction(3, 7)}


def test_volts_become_milliamps_only_with_a_measured_impedance() -> None:
    left = add("capture.dial_left_at", output_v="2.5 V", pulse_width="0.5 ms")
    (bare,) = of(left).pulses
    assert (bare.other, bare.charge_uc, bare.energy_uj) == (None, None, None)
    (found,) = of(OHM, left).pulses
    assert found.other == 5
    assert found.charge_uc == Fraction("2.5")
    assert found.energy_uj == Fraction("6.25")


def test_another_wires_impedance_is_never_used() -> None:
    other = {"path": "wires", "id": "w2", "add": {}}
    found = of(other, put("capture.impedance", "500 Ohm", "w2"), WIDTH, *TEST)
    assert found.impedance_ohm is None
    assert found.pulses[0].other is None
    assert found.pulses[0].charge_uc == Fraction("1.5")


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ("49 Ohm", None),
        ("50 Ohm", Fraction(50)),
        ("10000 Ohm", Fraction(10000)),
        ("10001 Ohm", None),
        ("0.5 kOhm", Fraction(500)),
        ({"as": "> 500", "cmp": ">", "n": "500", "unit": "Ohm"}, None),
        ({"as": "4-500", "low": "400", "high": "500", "unit": "Ohm"}, None),
        ({"as": "500", "n": "500", "unit": ""}, None),
        ({"absent": "not_known"}, None),
    ],
)
def test_an_impedance_is_one_possible_number_of_known_unit(told, expected) -> None:
    assert of(put("capture.impedance", told)).impedance_ohm == expected


def test_two_answers_for_the_impedance_convert_nothing() -> None:
    second = {**put("capture.impedance", "600 Ohm"), "unseen": True, "log": "tablet-2"}
    assert of(OHM, second, WIDTH, *TEST).pulses[0].other is None


@pytest.mark.parametrize(
    ("ohm", "is_usual"),
    [("199", False), ("200", True), ("2000", True), ("2001", False)],  # domain 4g
)
def test_an_unusual_impedance_is_told(ohm, is_usual) -> None:
    assert of(put("capture.impedance", f"{ohm} Ohm")).is_usual is is_usual


def test_the_width_last_told_counts() -> None:
    read = add("checks.dial_left_at", output="3.0 mA", pulse_width="1.8 ms")
    assert of(WIDTH, read).pulse_width_ms == Fraction("1.8")
    unknown = add("checks.dial_left_at", pulse_width={"absent": "not_known"})
    assert of(WIDTH, read, unknown).pulse_width_ms is None
    assert of(add("capture.generator", pulse_width="0 ms")).pulse_width_ms is None


def test_each_output_keeps_the_width_it_was_read_at() -> None:
    """Threshold 1.0 mA at 0.5 ms, dial left at 3.0 mA at 1.8 ms."""
    test = {**add("capture.threshold_test", pulse_width="0.5 ms"), "id": "t1"}
    readings = [{**one, "add": {**one["add"], "of": "t1"}} for one in TEST]
    left = add("capture.dial_left_at", output="3.0 mA", pulse_width="1.8 ms")
    threshold, set_to = of(test, *readings, left).pulses
    assert threshold.charge_uc == Fraction("0.5")
    assert set_to.charge_uc == Fraction("5.4")


def test_an_upper_bound_is_no_threshold_to_calculate_with() -> None:
    found = of(OHM, WIDTH, TEST[0])
    assert found.pulses == ()


def test_without_anything_nothing_is_calculated() -> None:
    assert of() == Electrical(None, None, None, ())


def test_what_an_impedance_can_be_is_what_the_catalogue_says() -> None:
    field = CATALOGUE.field("wires/w/capture.impedance")
    assert field is not None
    assert field.hard is not None
    assert field.soft is not None
    assert (Fraction(field.hard.low), Fraction(field.hard.high)) == HARD_OHM
    assert (Fraction(field.soft.low), Fraction(field.soft.high)) == USUAL_OHM
