"""Charge, energy, strength and duration of one wire's pulse; at the workstation only.

All of it is calculated, none of it is a threshold or a setting. Volts and milliamps are
converted only with an impedance measured for this very wire. Units: mA, V, Ohm, ms, µC,
µJ. Source: fixtures/sources.md#domain-4g, #clinical-7 (volts).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from webapp.clinical.exact import number
from webapp.clinical.left_at import PARTS
from webapp.clinical.policy import Policy
from webapp.clinical.readings import threshold_summary
from webapp.clinical.rows import Row, one_answer, rows_of

# domain 4g: usual 300 to 1000 Ohm, looked at again below 200 or above 2000.
USUAL_OHM = (Fraction(200), Fraction(2000))
# catalogue: what an impedance can be at all (a test holds it).
HARD_OHM = (Fraction(50), Fraction(10000))
# domain 4g: human endocardium about 0.3 ms (memory), an older bench figure 2 ms
# (found); they disagree, so that both are shown and neither is a limit.
CHRONAXIES_MS = (Fraction(3, 10), Fraction(2))
PER_THOUSAND = 1000
_OHM_PER = {"Ohm": Fraction(1), "kOhm": Fraction(PER_THOUSAND)}

_TELL_WIDTH = ("threshold_test", "dial_left_at")

Of = Literal["threshold", "left_at"]


@dataclass(frozen=True, slots=True)
class Pulse:
    """One output as read, with what is calculated from it; None where it cannot be.

    `other`: the same output in the other unit; `rheobase_ma`: by chronaxie in ms, for
    a threshold in mA.
    """

    of: Of
    read: Fraction
    unit: str
    other: Fraction | None = None
    charge_uc: Fraction | None = None
    energy_uj: Fraction | None = None
    rheobase_ma: tuple[tuple[Fraction, Fraction], ...] = ()


@dataclass(frozen=True, slots=True)
class Electrical:
    """`is_usual`: None without an impedance; all else as in the module's docstring."""

    impedance_ohm: Fraction | None
    is_usual: bool | None
    pulse_width_ms: Fraction | None
    pulses: tuple[Pulse, ...]


def volts(current_ma: Fraction, impedance_ohm: Fraction) -> Fraction:
    """Return V = I × R / 1000: 1 mA through 500 Ohm are 0.5 V."""
    return current_ma * impedance_ohm / PER_THOUSAND


def milliamps(voltage: Fraction, impedance_ohm: Fraction) -> Fraction:
    """Return I = V × 1000 / R, `impedance_ohm` above zero."""
    return voltage * PER_THOUSAND / impedance_ohm


def charge_uc(current_ma: Fraction, width_ms: Fraction) -> Fraction:
    """Return Q = I × PW: 5 mA for 1.8 ms are 9 µC."""
    return current_ma * width_ms


def energy_uj(
    current_ma: Fraction, impedance_ohm: Fraction, width_ms: Fraction
) -> Fraction:
    """Return E = I² × R × PW / 1000: 2 mA, 500 Ohm, 1.5 ms are 3 µJ."""
    return current_ma * volts(current_ma, impedance_ohm) * width_ms


def strength_factor(chronaxie_ms: Fraction, width_ms: Fraction) -> Fraction:
    """Return I / Irh = 1 + c / PW, `width_ms` above zero: at the chronaxie 2.

    Source: Geddes, IEEE TBME 2004 (PMID 14723507).
    """
    return 1 + chronaxie_ms / width_ms


def rheobase_ma(
    threshold_ma: Fraction, chronaxie_ms: Fraction, width_ms: Fraction
) -> Fraction:
    """Return Irh of a threshold found at a pulse width."""
    return threshold_ma / strength_factor(chronaxie_ms, width_ms)


def threshold_charge_uc(
    rheobase: Fraction, chronaxie_ms: Fraction, width_ms: Fraction
) -> Fraction:
    """Return Q = Irh × (PW + c): a line in PW, Irh × c at no width."""
    return rheobase * (width_ms + chronaxie_ms)


def electrical(fold: dict[str, Any], wire: str, policy: Policy) -> Electrical:
    """Return what is calculated from one wire's threshold and its dial left at."""
    ohm, summary = impedance(fold, wire), threshold_summary(fold, wire, policy)
    left = summary.left_at
    read: list[tuple[Of, str, str | None, str]] = [
        ("threshold", summary.counted or "", summary.threshold, summary.unit),
    ]
    if left is not None:
        read.append(("left_at", left.id, left.output, left.unit))
    pulses = [
        _pulse(of, exact, unit, ohm, pulse_width(fold, wire, row))
        for of, row, text, unit in read
        if (exact := number(text)) is not None
    ]
    usual = None if ohm is None else USUAL_OHM[0] <= ohm <= USUAL_OHM[1]
    return Electrical(ohm, usual, pulse_width(fold, wire), tuple(pulses))


def impedance(fold: dict[str, Any], wire: str) -> Fraction | None:
    """Return the impedance measured for this wire, Ohm; None where none can be read."""
    told = one_answer(fold, f"wires/{wire}/capture.impedance")
    if not isinstance(told, dict) or told.get("unit") not in _OHM_PER:
        return None
    exact = _positive(told)
    ohm = None if exact is None else exact * _OHM_PER[told["unit"]]
    return ohm if ohm is not None and HARD_OHM[0] <= ohm <= HARD_OHM[1] else None


def pulse_width(fold: dict[str, Any], wire: str, of_row: str = "") -> Fraction | None:
    """Return the pulse width in ms: of this row if it tells one, else as last told.

    Told by a test, by settings read back, or by the generator; None for no number.
    """
    names = [f"{part}.{name}" for part in PARTS for name in _TELL_WIDTH]
    paths = [f"wires/{wire}/{name}" for name in (*names, "capture.generator")]
    rows = _with_width(fold, paths)
    told = [row for row in rows if row.id == of_row] or rows
    value = told[-1].value["pulse_width"] if told else None
    if not isinstance(value, dict) or value.get("unit") != "ms":
        return None
    return _positive(value)


def _with_width(fold: dict[str, Any], paths: Iterable[str]) -> list[Row]:
    return [row for row in rows_of(fold, *paths) if "pulse_width" in row.value]


def _positive(value: dict[str, Any]) -> Fraction | None:
    """Return an exact number above zero: a range or a bound is none."""
    if {"absent", "low", "cmp", "special"} & set(value):
        return None
    exact = number(value.get("n"))
    return exact if exact is not None and exact > 0 else None


def _pulse(
    of: Of, read: Fraction, unit: str, ohm: Fraction | None, width: Fraction | None
) -> Pulse:
    current = read if unit == "mA" else None
    other: Fraction | None = None
    if ohm is not None:
        other = volts(read, ohm) if unit == "mA" else milliamps(read, ohm)
        current = read if unit == "mA" else other
    charge = energy = None
    if current is not None and width is not None:
        charge = charge_uc(current, width)
        energy = None if ohm is None else energy_uj(current, ohm, width)
    rheobases: tuple[tuple[Fraction, Fraction], ...] = ()
    if of == "threshold" and unit == "mA" and width is not None:
        rheobases = tuple((c, rheobase_ma(read, c, width)) for c in CHRONAXIES_MS)
    return Pulse(of, read, unit, other, charge, energy, rheobases)
