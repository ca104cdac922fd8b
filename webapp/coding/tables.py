"""Code tables: which codes an edition holds, and which edition serves a date."""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

SHIPPED_TABLES = Path(__file__).parent / "tables"
FISCAL_YEAR_BEGINS = 10
TEXTS = ("system", "edition", "source", "licence", "sha256")


class UnusableTable(ValueError):
    """A table file lacks a fact, or is not the one its digest was made of."""


@dataclass(frozen=True, slots=True)
class Table:
    """One edition of one code system, or the part of it in hand.

    `billable`: code -> official title; `headers`: codes that group others and are
    never claimed; `valid_from`, `valid_to`: first and last day it may serve;
    `sha256`: of `canonical`. Serves the days of both ends.
    """

    system: str
    edition: str
    valid_from: date
    valid_to: date
    source: str
    licence: str
    sha256: str
    billable: Mapping[str, str]
    headers: Mapping[str, str]

    def serves(self, day: date) -> bool:
        """Return whether this edition is the one of that day."""
        return self.valid_from <= day <= self.valid_to

    def is_leaf(self, code: str) -> bool:
        """Return whether the code may stand on a claim."""
        return code in self.billable

    def title(self, code: str) -> str:
        """Return the official title, "" for a code not in hand."""
        return self.billable.get(code) or self.headers.get(code, "")

    def days_from(self, day: date) -> int:
        """Return how many days lie between a day and the window; 0 inside it."""
        before = (self.valid_from - day).days
        after = (day - self.valid_to).days
        return max(before, after, 0)


@dataclass(frozen=True, slots=True)
class Lookup:
    """The table used for a date; `confirmed` only when it is the one of the date.

    `table` is None where no edition of the system is in hand at all; `wanted`: the
    fiscal year that the date lies in, "" where that does not name an edition.
    """

    table: Table | None
    confirmed: bool
    wanted: str = ""


class Tables:
    """Every table in hand. Earlier ones win where two serve a date equally well."""

    def __init__(self, tables: Iterable[Table]) -> None:
        self.tables = tuple(tables)

    def look_up(self, system: str, day: date | None) -> Lookup:
        """Return the edition of a day, else the nearest one, not confirmed.

        `day` None: the date is not settled, so the latest edition serves.
        """
        own = [t for t in self.tables if t.system == system]
        if not own:
            return Lookup(None, False)
        if day is None:
            return Lookup(max(own, key=lambda t: t.valid_to), False)
        nearest = min(own, key=lambda t: t.days_from(day))
        return Lookup(nearest, nearest.serves(day), fiscal_year(day))


def fiscal_year(day: date) -> str:
    """Return the fiscal year of a day, which begins on 1 October: "FY2027"."""
    return f"FY{day.year + (day.month >= FISCAL_YEAR_BEGINS)}"


def load_tables(*folders: Path) -> Tables:
    """Read every table file of the folders, the shipped ones last.

    A site's own table of the same window so serves before ours. Raises
    UnusableTable: naming the file and what is wrong with it.
    """
    found: list[Table] = []
    for folder in (*folders, SHIPPED_TABLES):
        for file in sorted(folder.glob("*.toml")) + sorted(folder.glob("*.json")):
            found.append(read_file(file))
    return Tables(found)


def read_file(file: Path) -> Table:
    """Read one table file. Raises UnusableTable: naming the file."""
    text = file.read_text(encoding="utf-8")
    try:
        raw = tomllib.loads(text) if file.suffix == ".toml" else json.loads(text)
        return read_table(raw)
    except ValueError as error:
        raise UnusableTable(f"{file.name}: {error}") from error


def read_table(raw: Mapping[str, Any]) -> Table:
    """Make a table of a file's content. Raises UnusableTable."""
    for key in TEXTS:
        if not isinstance(raw.get(key), str) or not raw[key]:
            raise UnusableTable(f"{key} is missing")
    table = Table(
        **{key: raw[key] for key in TEXTS},
        valid_from=_day(raw, "valid_from"),
        valid_to=_day(raw, "valid_to"),
        billable=dict(raw.get("billable", {})),
        headers=dict(raw.get("headers", {})),
    )
    if table.valid_to < table.valid_from:
        raise UnusableTable("valid_to lies before valid_from")
    if digest(table.billable, table.headers) != table.sha256:
        raise UnusableTable("sha256 is not that of the codes: the file was changed")
    return table


def digest(billable: Mapping[str, str], headers: Mapping[str, str]) -> str:
    """Return the SHA-256 of the codes, one sorted line each: code, flag, title."""
    lines = [f"{code}\t1\t{title}\n" for code, title in billable.items()]
    lines += [f"{code}\t0\t{title}\n" for code, title in headers.items()]
    return hashlib.sha256("".join(sorted(lines)).encode()).hexdigest()


def _day(raw: Mapping[str, Any], key: str) -> date:
    value = raw.get(key)
    if isinstance(value, str):
        return date.fromisoformat(value)
    if type(value) is date:
        return value
    raise UnusableTable(f"{key} is not a date")
