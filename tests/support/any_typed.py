"""Texts as people, keyboards and pastes give them, for every field of the catalogue.

`FIELDS` are the catalogue's own, one of each shape: kind, units, limits, choices.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from functools import cache
from random import Random

from tests.support import hostile
from webapp.catalogue import CATALOGUE
from webapp.catalogue.decimals import exact
from webapp.catalogue.model import Field
from webapp.catalogue.units import shown_unit

TODAY = "2031-11-24"
ZONE = "Europe/Oslo"
# Every free-text field meets each of these.
STRING_SET = (*hostile.LINES, *hostile.OTHERS)
# How one number is typed that is none, or could be two.
ODD_NUMBERS = (
    *("1,5", "1.5", " 1.5 ", "\u00a01.5\u202f", "١٫٥", "١,٥", "1٫5", "１．５", "1e3"),
    *("1E3", "1_0", "0x1F", "NaN", "nan", "Infinity", "-Infinity", "true", "null"),
    *("1,250", "1.250", "1.000,5", "1 000", "1'000", "5.", ".5", ",5", "--1", "+1"),
    *("-0", "00", "007", "5-6", "6-5", "<5", "≥ 5", "max", "1/2", "½", "²", "٣٥", "1e"),
    *("1" + "0" * 400, "0." + "0" * 400 + "1", "9" * 15, "9" * 16, "0,1", "\u22125"),
)
ODD_TEXTS = (
    *("\ud800", "a\udc00b", "\udc00\ud800", "\ufffd", "\ufeffa", "\u2028", "a\u200bb"),
    *("\u202eabc", "\u200fשלום 5", "\x7f", "\x9f", "a\rb", "é", "\u1e9b\u0323", "ﬁ"),
    *(
        "__proto__",
        "constructor",
        "toString",
        "hasOwnProperty",
        "[]",
        "{}",
        "undefined",
    ),
)
CLOCKS = (
    *("10:41", "9.05", "1041", "24:00", "25:10", "about 10:41", "~10:41", "10:41:61"),
    *("26.10.2031 02:30", "26.10.2031 02:30 +01:00", "30.3.2031 02:30", "T10:41"),
    *("2031-11-24T10:41:07.123Z", "2031-11-24T24:00:00.000Z", "1.1.1970 00:30"),
    *(
        "31.12.1969 23:30",
        "31.12.2199 23:59",
        "1.1.2200 00:00",
        "1.1.1900",
        "31.12.1899",
    ),
    *("31.12.2199", "1.1.2200", "29.2.2100", "29.2.2000"),
)
_ARABIC = str.maketrans("0123456789.", "٠١٢٣٤٥٦٧٨٩٫")


def _every_field() -> Iterator[Field]:
    for _, field in CATALOGUE.paths():
        yield field
        yield from field.children


@cache
def fields() -> tuple[Field, ...]:
    """Return one field of the catalogue for each shape that kinds tell apart.

    Of groups, one for each set of kinds that its children have.
    """
    found: dict[tuple[object, ...], Field] = {}
    for field in _every_field():
        choices = tuple((c.code, c.label, c.takes_text) for c in field.choices)
        limits = (field.step, field.hard, field.soft, field.soft_ages)
        shape = (field.kind, field.units, *limits, field.max_length, choices)
        children = tuple(sorted({child.kind for child in field.children}))
        found.setdefault((*shape, bool(field.row_of), children), field)
    return tuple(found.values())


def at_limits(field: Field, random: Random) -> Iterator[str]:
    """Yield numbers at each limit of a quantity, and one step below and above it.

    Each is typed in two of the ways a hand types it, in the field's first unit.
    """
    step = exact(field.step or "1")
    for limits in (field.hard, field.soft):
        for limit in (limits.low, limits.high) if limits else ():
            for number in (exact(limit) - step, exact(limit), exact(limit) + step):
                yield from _typed(number, field, random)


def _typed(number: Fraction, field: Field, random: Random) -> list[str]:
    text = decimal(number)
    unit = shown_unit(field.unit)
    ways = (
        *(text, text, text.replace(".", ","), f" {text} ", text.translate(_ARABIC)),
        *(f"+{text}", f"{text} {unit}", f"< {text}", f">={text}", f"{text}-{text}"),
        *(f"{text}0" if "." in text else f"{text}.0", text.replace("-", "\u2212")),
    )
    return random.sample(ways, 2)


def decimal(number: Fraction) -> str:
    """Return a finite decimal as text: Fraction(3, 2) gives "1.5"."""
    digits = 0
    while (number * 10**digits).denominator != 1:
        digits += 1
    whole = abs(number * 10**digits).numerator
    text = str(whole).rjust(digits + 1, "0")
    told = (
        f"{text[: len(text) - digits]}.{text[len(text) - digits :]}" if digits else text
    )
    return f"-{told}" if number < 0 else told


def days(field: Field) -> Iterator[str]:
    """Yield the days at both ends of a date's range, and a day before and after."""
    low, high = (field.hard.low, field.hard.high) if field.hard else ("0", "125")
    today = date.fromisoformat(TODAY)
    for years in (low, high):
        end = today.replace(year=today.year - int(years))
        for shift in (-1, 0, 1):
            day = end + timedelta(days=shift)
            yield day.isoformat()
            yield f"{day.day}.{day.month}.{day.year}"
            yield f"{day.day}/{day.month}/{day.year % 100:02d}"


def lengths(field: Field) -> Iterator[str]:
    """Yield texts of a letter less than the field takes, as many, and one more."""
    if field.max_length is None:
        return
    for count in (-1, 0, 1):
        length = field.max_length + count
        yield from ("x" * length, "👍" * length, "e\u0301" * (length // 2))
        yield "a" + "\r\n" * (length - 2) + "b"
