"""One limit as a row: read from a policy file, and refused where it cannot stand."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal, get_args

from webapp.catalogue.units import shown_unit
from webapp.clinical.exact import number, ratio

WORDS = ("found", "found-2", "memory", "derived", "common practice", "local")
Kind = Literal["number", "numbers", "range", "text", "texts"]
Ages = Literal["all", "adult", "under 18", "under 12", "12 to 17"]
# A limit of ours: a card is a page, not a book.
_LARGEST_TEXT = 20_000


class UnusablePolicy(ValueError):
    """A limit is unknown, out of its allowed range, without source, or unordered."""


@dataclass(frozen=True, slots=True)
class Row:
    """One limit. `values`: one text, or several where `kind` says so.

    Numbers are exact decimals or fractions as text, in `unit` (UCUM); `low`, `high`:
    what a hospital may choose from, "" for texts; `word`: how far `source` carries;
    `sign`: shown in place of the unit, "×" for a multiple; `place`: where
    fixtures/sources.md tells more of the source, "" where a hospital chose the value.
    """

    key: str
    meaning: str
    values: tuple[str, ...]
    unit: str
    low: str
    high: str
    ages: Ages
    source: str
    word: str
    kind: Kind = "number"
    sign: str = ""
    place: str = ""

    @property
    def value(self) -> str:
        """Return the one value; several are joined by ", "."""
        return ", ".join(self.values)

    @property
    def shown(self) -> str:
        """Return the value with its sign or unit, as read aloud."""
        return f"{self.value} {self.sign or shown_unit(self.unit)}".strip()


def read_rows(text: str) -> tuple[str, dict[str, Row]]:
    """Return version and rows of a policy file, each checked alone.

    Raises UnusablePolicy: with the key and what was expected.
    """
    data = tomllib.loads(text)
    version = data.pop("version", None)
    if not isinstance(version, str) or not version:
        raise UnusablePolicy("policy: the file names no version")
    rows = {key: _row(key, told) for key, told in data.items()}
    for row in rows.values():
        refuse_row(row)
    return version, rows


def _row(key: str, told: dict[str, Any]) -> Row:
    for name in ("meaning", "value", "source", "word", "ages"):
        if not told.get(name):
            raise UnusablePolicy(f"policy: {key} has no {name}")
    told = dict(told)
    kind = told.pop("kind", "number")
    values = values_of(key, kind, told.pop("value"))
    names = ("unit", "low", "high", "sign", "place")
    optional = {name: told.pop(name, "") for name in names}
    return Row(key=key, values=values, kind=kind, **optional, **told)


def values_of(key: str, kind: str, given: object) -> tuple[str, ...]:
    """Return a row's values as texts. Raises UnusablePolicy: for a binary number."""
    several = kind in ("numbers", "range", "texts")
    if isinstance(given, int) and not isinstance(given, bool):
        given = str(given)
    if isinstance(given, str):
        if kind in ("numbers", "range"):
            return tuple(part.strip() for part in given.split(","))
        return (given if kind == "text" else given.strip(),)
    if several and isinstance(given, list) and all(isinstance(v, str) for v in given):
        return tuple(given)
    raise UnusablePolicy(
        f'policy: {key} takes text such as "2.5", so that no binary fraction gets in'
    )


def refuse_row(row: Row) -> None:
    """Check one row alone. Raises UnusablePolicy."""
    if not row.source or row.word not in WORDS:
        words = ", ".join(WORDS)
        raise UnusablePolicy(
            f"policy: {row.key} needs a source, and a word of: {words}"
        )
    if row.ages not in get_args(Ages) or row.kind not in get_args(Kind):
        raise UnusablePolicy(f"policy: {row.key}: ages or kind not known")
    if row.kind in ("text", "texts"):
        _refuse_texts(row)
    else:
        _refuse_numbers(row)


def _refuse_texts(row: Row) -> None:
    if not row.values or any(not text.strip() for text in row.values):
        raise UnusablePolicy(f"policy: {row.key} is empty")
    if any(len(text) > _LARGEST_TEXT for text in row.values):
        raise UnusablePolicy(
            f"policy: {row.key} is longer than {_LARGEST_TEXT} letters"
        )


def _refuse_numbers(row: Row) -> None:
    low, high = ratio(row.low), ratio(row.high)
    read = ratio if "/" in row.low else number
    numbers: list[Fraction] = []
    for text in row.values:
        exact = read(text)
        if exact is None or low is None or high is None:
            raise UnusablePolicy(f"policy: {row.key} = {row.value} is no number")
        if not low <= exact <= high:
            allowed = f"{row.low} to {row.high}"
            raise UnusablePolicy(
                f"policy: {row.key} = {row.value} is outside what is allowed, {allowed}"
            )
        numbers.append(exact)
    if row.kind == "range" and len(numbers) != 2:
        raise UnusablePolicy(f"policy: {row.key} takes two numbers, low and high")
    if not numbers or numbers != sorted(numbers):
        raise UnusablePolicy(f"policy: {row.key} = {row.value} is not ascending")
