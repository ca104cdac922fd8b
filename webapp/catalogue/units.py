"""UCUM units: how they are shown and typed, and the exact ways between them."""

from __future__ import annotations

import re
from fractions import Fraction

from webapp.catalogue.decimals import exact
from webapp.catalogue.typed import ascii_lower

_SHOWN = {
    "[Ch]": "Fr",
    "m[Hg]": "mHg",
    "mm[Hg]": "mmHg",
    "cm[H2O]": "cmH₂O",
    "Cel": "°C",
    "[degF]": "°F",
    "deg": "°",
    "Ohm": "Ω",
    "kOhm": "kΩ",
    "[pH]": "",
    "a": "y",
    "mo": "months",
    "wk": "weeks",
    "[in_i]": "in",
    "[ft_i]": "ft",
    "[lb_av]": "lb",
    "[oz_av]": "oz",
    "meq": "mEq",
    "meq/L": "mEq/L",
    "[drp]/min": "drops/min",
    "1": "",
}
_ALSO_TYPED = {
    "Cel": ("C",),
    "[degF]": ("F",),
    "[Ch]": ("French",),
    "/min": ("bpm",),
    "mmol/L": ("mM",),
    "a": ("years", "year"),
    "wk": ("wk", "week"),
}
_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
# (what to find, what to show), in this order; "{1.73_m2}" says per what.
_SIGNS = (
    (re.compile(r"/\{([^}]*)\}"), r"/\1"),
    (re.compile(r"\{[^}]*\}"), ""),
    (re.compile(r"_"), " "),
    (re.compile(r"\[IU\]"), "IU"),
    (re.compile(r"(^|[/.])u(?=[A-Za-z])"), r"\1µ"),
    (re.compile(r"(?<=[a-z])([23])(?![0-9])"), lambda m: m[1].translate(_RAISED)),
    (re.compile(r"10\*([0-9]+)"), lambda m: "×10" + m[1].translate(_RAISED)),
    (re.compile(r"\.(?=[a-z])"), "·"),
)

# unit: (dimension, factor, offset); base value = number * factor + offset.
# Factors: UCUM 2.1, tables 3 to 9 (tests compare each with the ucumvert package).
_TO_BASE: dict[str, tuple[str, Fraction, Fraction]] = {
    unit: (dimension, Fraction(factor), Fraction(offset))
    for dimension, unit, factor, offset in (
        ("length", "m", "1", "0"),
        ("length", "cm", "1/100", "0"),
        ("length", "mm", "1/1000", "0"),
        ("length", "[in_i]", "254/10000", "0"),
        ("length", "[ft_i]", "3048/10000", "0"),
        ("mass", "kg", "1000", "0"),
        ("mass", "g", "1", "0"),
        ("mass", "mg", "1/1000", "0"),
        ("mass", "ug", "1/1000000", "0"),
        ("mass", "[lb_av]", "45359237/100000", "0"),
        ("temperature", "Cel", "1", "0"),
        ("temperature", "[degF]", "5/9", "-160/9"),
        ("time", "ms", "1/1000", "0"),
        ("time", "s", "1", "0"),
        ("time", "min", "60", "0"),
        ("time", "h", "3600", "0"),
        ("time", "d", "86400", "0"),
        ("time", "wk", "604800", "0"),
        ("time", "mo", "2629800", "0"),
        ("time", "a", "31557600", "0"),
        ("frequency", "/min", "1", "0"),
        ("frequency", "/s", "60", "0"),
        ("current", "A", "1000", "0"),
        ("current", "mA", "1", "0"),
        ("current", "uA", "1/1000", "0"),
        ("potential", "V", "1000", "0"),
        ("potential", "mV", "1", "0"),
        ("potential", "uV", "1/1000", "0"),
        ("resistance", "Ohm", "1", "0"),
        ("resistance", "kOhm", "1000", "0"),
        ("volume", "L", "1000", "0"),
        ("volume", "mL", "1", "0"),
        ("pressure", "mm[Hg]", "1", "0"),
        ("pressure", "kPa", "10000000/1333220", "0"),
        ("amount", "mol/L", "1000", "0"),
        ("amount", "mmol/L", "1", "0"),
        ("amount", "umol/L", "1/1000", "0"),
        ("amount", "nmol/L", "1/1000000", "0"),
        ("content", "g/L", "1", "0"),
        ("content", "g/dL", "10", "0"),
        ("content", "mg/dL", "1/100", "0"),
        ("content", "mg/L", "1/1000", "0"),
        ("content", "ug/L", "1/1000000", "0"),
        ("content", "ng/mL", "1/1000000", "0"),
        ("content", "ng/L", "1/1000000000", "0"),
        ("content", "pg/mL", "1/1000000000", "0"),
        ("count", "10*9/L", "1000", "0"),
        ("count", "10*3/uL", "1000", "0"),
        ("count", "/uL", "1", "0"),
        ("dose", "Gy", "1000", "0"),
        ("dose", "cGy", "10", "0"),
        ("dose", "mGy", "1", "0"),
    )
}


def shown_unit(unit: str) -> str:
    """Return a UCUM unit as read aloud or printed: "mm[Hg]" gives "mmHg"."""
    shown = _SHOWN.get(unit)
    if shown is not None:
        return shown
    shown = unit
    for sign, instead in _SIGNS:
        shown = sign.sub(instead, shown)
    return shown


def split_unit(text: str, units: tuple[str, ...]) -> tuple[str, str | None]:
    """Return a typed text without the unit at its end, and that unit's code.

    Only units of the field are known; capitals do not matter. The longest fitting
    form wins, so that "5 cm" is never 5 c of metres. Without a unit: (text, None).
    """
    lowered = ascii_lower(text)
    best: tuple[int, str] = (0, "")
    for unit in units:
        for form in (unit, shown_unit(unit), *_ALSO_TYPED.get(unit, ())):
            if len(form) > best[0] and lowered.endswith(ascii_lower(form)):
                best = (len(form), unit)
    length, found = best
    return (text[:-length], found) if length else (text, None)


def converted(number: str, unit: str, to: str) -> Fraction | None:
    """Return `number` of `unit` in `to`, exactly; None where no fixed way exists.

    mg/dL and mmol/L have none: it depends on the substance.
    """
    if unit == to:
        return exact(number)
    here, there = _TO_BASE.get(unit), _TO_BASE.get(to)
    if here is None or there is None or here[0] != there[0]:
        return None
    return (exact(number) * here[1] + here[2] - there[2]) / there[1]
