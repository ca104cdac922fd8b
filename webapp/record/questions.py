"""What is open: needs not met, two answers, impossible values, as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.model import Field, Part
from webapp.record.case import Answer, Case, Wire, state_of

Why = Literal["not_asked", "two_answers", "impossible"]
# Blank fields of these needs are open; C and H only colour the list.
OPENING_NEEDS = frozenset(("N1", "N2", "N3", "N4", "N5", "N6", "N7", "N8", "N", "R"))


@dataclass(frozen=True, slots=True)
class Question:
    """One open question. `path` is where it is answered; `need` may be ""."""

    path: str
    part: str
    label: str
    why: Why
    need: str
    entries: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Place:
    """A field under its catalogue path. `need`: what opens it when blank, or "".

    `blank`: the question it is then, where it does not repeat for each wire.
    """

    part: str
    path: str
    field: Field
    need: str
    repeats: bool
    is_always_asked: bool
    blank: Question


AFTERWARDS = ("handover", "checks", "removal")


def open_questions(case: Case) -> list[Question]:
    """Return every open question in the order of the parts.

    Two answers and impossible values are open wherever they stand. A need counts
    only while its field is asked; parts after the procedure only once begun.
    """
    found: list[Question] = []
    wires = case.wires
    told = case.told_paths
    for part, static in plan(case.catalogue):
        begun = part.name not in AFTERWARDS or _is_begun(case, part)
        # Most of a record is blank: one look at each of those must be enough.
        for place in static:
            if place.repeats and wires:
                for wire in wires:
                    found += _of_wire(case, place, wire, begun)
            elif place.path in told:
                found += told_at(case, place, place.path, None, begun)
            elif begun and place.need and is_asked(case, place):
                found.append(place.blank)
    return found


@lru_cache(maxsize=4)
def plan(catalogue: Catalogue) -> tuple[tuple[Part, tuple[Place, ...]], ...]:
    """Return every field of every part in its place, worked out once."""
    return tuple(
        (part, tuple(_place(part, field) for field in part.fields()))
        for part in catalogue.parts
    )


def _place(part: Part, field: Field) -> Place:
    path, need = f"{part.name}.{field.name}", _need(field)
    blank = Question(path, part.name, field.label, "not_asked", need)
    always = field.asked_when is None
    return Place(part.name, path, field, need, field.per_wire, always, blank)


def places(case: Case, part: Part) -> Iterator[tuple[str, Field, Wire | None]]:
    """Yield each field of a part with its path, once per wire where it repeats.

    A record without a wire yields per-wire fields under their catalogue path, so
    that the question can be asked before there is one.
    """
    for field in part.fields():
        path = f"{part.name}.{field.name}"
        if field.per_wire and case.wires:
            for wire in case.wires:
                yield case.wire_path(wire, path), field, wire
        else:
            yield path, field, None


def _of_wire(case: Case, place: Place, wire: Wire, begun: bool) -> list[Question]:
    path = case.wire_path(wire, place.path)
    if path in case.told_paths:
        return told_at(case, place, path, wire, begun)
    if not (begun and place.need and is_asked(case, place, wire.id)):
        return []
    label = _label(case, place.field, wire)
    return [Question(path, place.part, label, "not_asked", place.need)]


def is_asked(case: Case, place: Place, wire: str | None = None) -> bool:
    """Return whether a field is asked now, of the record or of one wire."""
    return place.is_always_asked or case.is_asked(place.field, wire)


def told_at(
    case: Case, place: Place, path: str, wire: Wire | None, begun: bool
) -> list[Question]:
    """Return what is open where something stands."""
    question = _question(case, place, path, wire, begun)
    rows = _impossible_rows(case, place.part, path, place.field)
    return [*([question] if question else []), *rows]


def _question(
    case: Case, place: Place, path: str, wire: Wire | None, begun: bool
) -> Question | None:
    answer = case.answer(path)
    label = _label(case, place.field, wire)
    if answer.state in ("two_answers", "impossible"):
        why: Why = "two_answers" if answer.state == "two_answers" else "impossible"
        return Question(path, place.part, label, why, place.need, answer.entries)
    if not place.need or not begun or not _is_blank(case, answer, place.field):
        return None
    if not case.is_asked(place.field, wire.id if wire else None):
        return None
    return Question(path, place.part, label, "not_asked", place.need)


def _label(case: Case, field: Field, wire: Wire | None) -> str:
    is_one_of_some = wire is not None and len(case.wires) > 1
    return f"{field.label}, {wire.name}" if wire and is_one_of_some else field.label


def _need(field: Field) -> str:
    """Return the need that opens a blank field; rows of a row only add detail."""
    if field.row_of:
        return ""
    for need in field.needs:
        if need in OPENING_NEEDS:
            return need
    return ""


def _impossible_rows(
    case: Case, part: str, path: str, field: Field
) -> Iterator[Question]:
    """Yield one question for each value in a row that cannot be."""
    for row in case.rows(path):
        if row.id in case.sound:
            continue
        for child in field.children:
            if child.name in row.value and (
                state_of(child, row.value[child.name]) == "impossible"
            ):
                label = f"{field.label}: {child.label}"
                yield Question(path, part, label, "impossible", "", (row.id,))


def _is_blank(case: Case, answer: Answer, field: Field) -> bool:
    if field.kind == "group":
        return answer.state == "not_asked" and not case.rows(answer.path)
    return answer.state == "not_asked"


def _is_begun(case: Case, part: Part) -> bool:
    """Return whether any field of a later part holds anything."""
    return any(
        path in case.told_paths and (case.answer(path).heads or case.rows(path))
        for path, _, _ in places(case, part)
    )
