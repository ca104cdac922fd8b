"""Severe hypothermia before a wire is in the heart: by temperature, else as said.

Source: fixtures/sources.md#clinical-4, #domain-1. The figure is from memory.
"""

from __future__ import annotations

from fractions import Fraction

from webapp.clinical.crossing import Crossing, cautioned
from webapp.clinical.evidence import entries_of
from webapp.clinical.exact import number
from webapp.clinical.found import Found
from webapp.clinical.remarks import Remark
from webapp.clinical.rows import one_answer, point
from webapp.clinical.told import Told

_TEMPERATURE = "patient.temperature"
_KEY = "hypothermia_caution_cel"
# The catalogue's hard range of a temperature.
HARD_CEL = (Fraction(10), Fraction(47))
# As the catalogue converts them: Cel = (degF - 32) x 5/9.
DEGF_OFF = Fraction(32)
DEGF_PART = Fraction(5, 9)
# The catalogue's range in Fahrenheit: the same, converted.
HARD_DEGF = (Fraction(50), Fraction(1166, 10))
_UNITS = (("Cel", HARD_CEL, "cold_cel"), ("[degF]", HARD_DEGF, "cold_degf"))


def cold(told: Told, crossing: Crossing) -> list[Found]:
    """Say that the heart is cold: by its temperature, else as it was said."""
    bound = number(told.limits.get(_KEY))
    value = one_answer(told.fold, _TEMPERATURE)
    for unit, hard, code in _UNITS:
        shown = point(value, unit, hard).n
        degrees = _in_cel(number(shown), unit)
        if shown is None or degrees is None or bound is None or degrees >= bound:
            continue
        values = {"temperature": shown}
        remark = Remark(code, "look_again", values, (_KEY,))
        ids = entries_of(told.fold, (_TEMPERATURE,))
        return [Found(remark, _TEMPERATURE, "", ids, crossing.is_ahead)]
    remark = Remark("cold_said", "look_again")
    return cautioned(told, "severe_hypothermia", remark, crossing.is_ahead)


def _in_cel(value: Fraction | None, unit: str) -> Fraction | None:
    """Return degrees Celsius."""
    if value is None or unit == "Cel":
        return value
    return (value - DEGF_OFF) * DEGF_PART
