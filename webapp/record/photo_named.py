"""Where a record's entries name photos: beside a field, or in a row."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.catalogue.kinds import check
from webapp.catalogue.model import Field
from webapp.record.case import Case

_TOLD = ("sealed", "sha256", "type", "size", "caption")


@dataclass(frozen=True, slots=True)
class Named:
    """One photo as an entry names it.

    `place`: path of the field, or id of the row; `sha256`: of the original bytes;
    `sealed`: the name of the sealed ones; `size`: in bytes.
    """

    place: str
    label: str
    entry: str
    sealed: str
    sha256: str
    type: str
    size: int
    caption: str
    is_struck: bool = False


def named_photos(case: Case) -> list[Named]:
    """Return every photo that counts, in the record's order; two answers are both."""
    found: list[Named] = []
    for path, heads in case.fold["values"].items():
        field = case.catalogue.field(path)
        if field is None or field.kind != "photo":
            continue
        for head in heads:
            found += _named(field, head["value"], path, head["entries"][0])
    for path in case.fold["rows"]:
        field = case.catalogue.field(path)
        for child in field.children if field else ():
            if child.kind != "photo":
                continue
            for row in case.rows(path, struck=True):
                told = row.value.get(child.name)
                found += _named(child, told, row.id, row.id, row.struck is not None)
    places = {entry: n for n, entry in enumerate(case.fold["order"])}
    return sorted(found, key=lambda one: places.get(one.entry, 0))


def by_place(case: Case) -> dict[str, list[Named]]:
    """Return the same, by the place where each stands."""
    found: dict[str, list[Named]] = {}
    for one in named_photos(case):
        found.setdefault(one.place, []).append(one)
    return found


def _named(
    field: Field, value: Any, place: str, entry: str, is_struck: bool = False
) -> list[Named]:
    if not isinstance(value, dict) or "sealed" not in value:
        return []
    if check(field, value).state == "illegal":
        return []
    told = {name: value[name] for name in _TOLD}
    return [Named(place, field.label, entry, **told, is_struck=is_struck)]
