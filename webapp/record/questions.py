"""What is open: needs not met, two answers, impossible values, as data."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.model import Field, Part
from webapp.record.case import WIRES, Answer, Case, Wire, state_of

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
class _Place:
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
    for part, static in _plan(case.catalogue):
        begun = part.name not in AFTERWARDS or _is_begun(case, part)
        # Most of a record is blank: one look at each of those must be enough.
        for place in static:
            if place.repeats and wires:
                for wire in wires:
                    found += _of_wire(case, place, wire, begun)
            elif place.path in told:
                found += _told(case, place, place.path, None, begun)
            elif begun and place.need and _is_asked(case, place):
                found.append(place.blank)
    return found


@dataclass(frozen=True, slots=True)
class Counts:
    """How many questions are open, and how many of them are two answers."""

    open: int
    two_answers: int


def counts(case: Case) -> Counts:
    """Count what `open_questions` returns, without making it.

    Blank fields under one condition are counted together, then those that are not
    blank are looked at one by one: a list of records asks this of every record.
    """
    told = _told_places(case)
    begun = {part: _is_begun_in(case, part, told) for part in AFTERWARDS}
    blank = sum(
        group.count * sum(_is_asked(case, group.place, wire) for wire in wires)
        for group, wires in _groups_of(case)
        if begun.get(group.place.part, True)
    )
    found: list[Question] = []
    for place, path, wire in told:
        is_begun = begun.get(place.part, True)
        wire_id = wire.id if wire else None
        blank -= bool(is_begun and place.need and _is_asked(case, place, wire_id))
        if not _is_plain(case, path):
            found += _told(case, place, path, wire, is_begun)
    two = sum(question.why == "two_answers" for question in found)
    return Counts(blank + len(found), two)


def _is_plain(case: Case, path: str) -> bool:
    """Return whether one sound answer stands here, or sound rows only: nothing open."""
    heads = case.fold["values"].get(path)
    if heads is None:
        rows = case.fold["rows"][path]
        return all(r["id"] in case.sound and r["struck"] is None for r in rows)
    if len(heads) != 1 or heads[0]["entries"][0] not in case.sound:
        return False
    value = heads[0]["value"]
    return not (isinstance(value, dict) and "absent" in value)


@dataclass(frozen=True, slots=True)
class _Group:
    """Fields of one part under one condition. `place`: any of them."""

    place: _Place
    count: int


def _groups_of(case: Case) -> Iterator[tuple[_Group, tuple[str | None, ...]]]:
    """Yield each group with the wires it repeats for: (None,) when it does not."""
    wires = tuple(wire.id for wire in case.wires)
    for group in _groups(case.catalogue):
        yield group, wires if group.place.repeats and wires else (None,)


@lru_cache(maxsize=4)
def _groups(catalogue: Catalogue) -> tuple[_Group, ...]:
    grouped: dict[tuple[str, bool, int], list[_Place]] = defaultdict(list)
    for _, static in _plan(catalogue):
        for place in static:
            if place.need:
                condition = id(place.field.asked_when)
                grouped[place.part, place.repeats, condition].append(place)
    return tuple(_Group(places[0], len(places)) for places in grouped.values())


def _told_places(case: Case) -> list[tuple[_Place, str, Wire | None]]:
    """Return the places under which anything stands, with path and wire."""
    by_path = _by_path(case.catalogue)
    wires = {wire.id: wire for wire in case.wires}
    found: list[tuple[_Place, str, Wire | None]] = []
    for path in case.told_paths:
        root, _, rest = path.partition("/")
        wire_id, _, own = rest.partition("/")
        is_of_wire = root == WIRES and own
        place = by_path.get(own if is_of_wire else path)
        wire = wires.get(wire_id) if is_of_wire else None
        repeats = place is not None and place.repeats and bool(wires)
        if place is not None and repeats == (wire is not None) == bool(is_of_wire):
            found.append((place, path, wire))
    return found


@lru_cache(maxsize=4)
def _by_path(catalogue: Catalogue) -> dict[str, _Place]:
    return {place.path: place for _, static in _plan(catalogue) for place in static}


def _is_begun_in(
    case: Case, part: str, told: list[tuple[_Place, str, Wire | None]]
) -> bool:
    values = case.fold["values"]
    return any(
        place.part == part and bool(values.get(path) or case.rows(path))
        for place, path, _ in told
    )


@lru_cache(maxsize=4)
def _plan(catalogue: Catalogue) -> tuple[tuple[Part, tuple[_Place, ...]], ...]:
    return tuple(
        (part, tuple(_place(part, field) for field in part.fields()))
        for part in catalogue.parts
    )


def _place(part: Part, field: Field) -> _Place:
    path, need = f"{part.name}.{field.name}", _need(field)
    blank = Question(path, part.name, field.label, "not_asked", need)
    always = field.asked_when is None
    return _Place(part.name, path, field, need, field.per_wire, always, blank)


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


def _of_wire(case: Case, place: _Place, wire: Wire, begun: bool) -> list[Question]:
    path = case.wire_path(wire, place.path)
    if path in case.told_paths:
        return _told(case, place, path, wire, begun)
    if not (begun and place.need and _is_asked(case, place, wire.id)):
        return []
    label = _label(case, place.field, wire)
    return [Question(path, place.part, label, "not_asked", place.need)]


def _is_asked(case: Case, place: _Place, wire: str | None = None) -> bool:
    return place.is_always_asked or case.is_asked(place.field, wire)


def _told(
    case: Case, place: _Place, path: str, wire: Wire | None, begun: bool
) -> list[Question]:
    """Return what is open where something stands."""
    question = _question(case, place, path, wire, begun)
    rows = _impossible_rows(case, place.part, path, place.field)
    return [*([question] if question else []), *rows]


def _question(
    case: Case, place: _Place, path: str, wire: Wire | None, begun: bool
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
