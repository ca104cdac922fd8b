"""The vocabulary in which every field of the record is declared, once, as data."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Kind = Literal[
    "text",
    "prose",
    "yn",
    "one",
    "many",
    "qty",
    "moment",
    "date",
    "person",
    "photo",
    "drawing",
    "group",
]

Need = Literal["N1", "N2", "N3", "N4", "N5", "N6", "N7", "N8", "N", "R", "C", "H"]

# A condition is plain data (see when.py); kept opaque here so that the
# vocabulary depends on nothing.
Condition = dict[str, object]


@dataclass(frozen=True, slots=True)
class Code:
    """One code of a public code system, and the edition it was looked up in.

    `system`: "ICD-10-CM", "LOINC", "SNOMED CT", "NBG"; `edition`: e.g. "FY2026-Apr".
    """

    system: str
    code: str
    edition: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer of a `one` or `many` field.

    `code` is our own stable word and never changes meaning; `takes_text` marks
    "other (say)" choices, whose value is {"other": "..."}; `codes` are public codes.
    """

    code: str
    label: str
    codes: tuple[Code, ...] = ()
    takes_text: bool = False
    since: int = 1
    until: int | None = None


@dataclass(frozen=True, slots=True)
class Range:
    """A closed range of exact decimals, as strings, in the field's first unit."""

    low: str
    high: str


@dataclass(frozen=True, slots=True)
class Field:
    """One question of the record.

    `unit`: UCUM code, first of `units` is the default; `step`: exact decimal string;
    `hard`: outside it the value is impossible (kept, marked, never computed with),
    for a date in years before today;
    `soft`: outside it the value is used, with a remark, which is silent in children
    where `soft_ages` says "adult"; `asked_when`: shown and
    needed only while this condition holds (paths as in when.py; a child of a group
    reads its own row as "row.<child>"); `per_wire`: its path is
    wires/<id>/part.name; `children`: for kind "group" only.
    """

    name: str
    label: str
    kind: Kind
    needs: tuple[Need, ...] = ()
    choices: tuple[Choice, ...] = ()
    units: tuple[str, ...] = ()
    step: str = ""
    hard: Range | None = None
    soft: Range | None = None
    soft_ages: Literal["all", "adult"] = "all"
    max_length: int | None = None
    per_wire: bool = False
    children: tuple[Field, ...] = ()
    row_of: str = ""
    asked_when: Condition | None = None
    hint: str = ""
    since: int = 1
    until: int | None = None

    @property
    def unit(self) -> str:
        """Return the default UCUM unit, or "" for a field without one."""
        return self.units[0] if self.units else ""

    def choice(self, code: str) -> Choice | None:
        """Return the choice with this code, or None."""
        for choice in self.choices:
            if choice.code == code:
                return choice
        return None

    def child(self, name: str) -> Field | None:
        """Return the child field of a group with this name, or None."""
        for child in self.children:
            if child.name == name:
                return child
        return None


@dataclass(frozen=True, slots=True)
class Section:
    """A titled run of fields on one part's page."""

    title: str
    fields: tuple[Field, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the record; `on_rail` is false for those reached from another."""

    name: str
    label: str
    sections: tuple[Section, ...] = field(default_factory=tuple)
    on_rail: bool = True

    def fields(self) -> tuple[Field, ...]:
        """Return every field of the part in page order."""
        return tuple(f for s in self.sections for f in s.fields)
