"""The sensing test, and the sensitivity policy asks for: lower is more sensitive.

Source: fixtures/sources.md#clinical-9, #domain-4c.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from webapp.clinical.dial import Dial, shown_on
from webapp.clinical.exact import decimal, number
from webapp.clinical.remarks import Remark, heavier_first

Sensed = Literal["sensed", "not_sensed", "cannot_tell"]
Words = Literal["", "above_fraction", "cannot_go_low_enough", "not_measured"]


@dataclass(frozen=True, slots=True)
class SensitivityAsks:
    """`sensitivity`: mV, exact decimal, None where none can be asked.

    `words`: "above_fraction": the dial's lowest lies above the fraction asked for;
    "cannot_go_low_enough": the dial's lowest is not below what was measured.
    """

    sensitivity: str | None
    words: Words
    dial_known: bool


def sensing_threshold(readings: Sequence[tuple[str, Sensed]]) -> str | None:
    """Return the highest mV number that sensed, with none lower that did not.

    `readings`: (mV as exact decimal, result); None when nothing sensed so.
    """
    told = [(value, r) for mv, r in readings if (value := number(mv)) is not None]
    missed = [value for value, result in told if result == "not_sensed"]
    able = [v for v, r in told if r == "sensed" and all(m > v for m in missed)]
    return decimal(max(able)) if able else None


def sensitivity_asks(
    measured: str | None, dial: Dial, limits: Mapping[str, str]
) -> SensitivityAsks:
    """Return `sensitivity_fraction` of what was measured, down to the dial.

    Always below what was measured, else own beats are missed. Half of 5 mV on a
    dial of whole mV gives 2; 1 mV on a dial from 0.8 gives 0.8, above half.
    """
    exact = number(measured)
    part = number(limits.get("sensitivity_fraction"))
    if exact is None or part is None or exact <= 0:
        return SensitivityAsks(None, "not_measured", dial.known)
    if dial.lowest >= exact:
        return SensitivityAsks(None, "cannot_go_low_enough", dial.known)
    below = dial.at_or_below(exact * part)
    if below is None:
        return SensitivityAsks(decimal(dial.lowest), "above_fraction", dial.known)
    return SensitivityAsks(decimal(below), "", dial.known)


def sensing_remarks(
    measured: str | None,
    left_at: str | None,
    dial: Dial,
    limits: Mapping[str, str],
    is_dependent: bool,
) -> tuple[Remark, ...]:
    """Return what a sensing test and the sensitivity read back say together.

    `left_at`: mV read back, None when not, or asynchronous.
    """
    exact, left = number(measured), number(left_at)
    low = number(limits.get("r_wave_low_mv"))
    noise = number(limits.get("sensitivity_noise_mv"))
    told = {
        "measured": shown_on(dial, measured or ""),
        "left_at": shown_on(dial, left_at or ""),
    }
    found: list[Remark] = []
    if exact is not None and left is not None and left >= exact:
        found.append(Remark("will_not_sense", "look_now", told))
    if exact is not None and low is not None and exact < low:
        found.append(Remark("r_wave_low", "look_again", told, ("r_wave_low_mv",)))
    if left is not None and noise is not None and left < noise and is_dependent:
        key = "sensitivity_noise_mv"
        found.append(Remark("noise_may_stop_pacing", "look_again", told, (key,)))
    return heavier_first(found)
