"""What is open: needs not met, two answers, impossible values, as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

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


def open_questions(case: Case) -> list[Question]:
    """Return every open question in the order of the parts.

    Two answers and impossible values are open wherever they stand. A need counts
    only while its field is asked; parts after the procedure only once begun.
    """
    found: list[Question] = []
    for part in case.catalogue.parts:
        begun = part.name not in AFTERWARDS or _is_begun(case, part)
        for path, field, wire in places(case, part):
            question = _question(case, part, path, field, wire, begun)
            if question is not None:
                found.append(question)
            found += _impossible_rows(case, part, path, field)
    return found


AFTERWARDS = ("handover", "checks", "removal")


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


def _question(
    case: Case, part: Part, path: str, field: Field, wire: Wire | None, begun: bool
) -> Question | None:
    answer = case.answer(path)
    label = field.label
    if wire is not None and len(case.wires) > 1:
        label = f"{label}, {wire.name}"
    need = _need(field)
    if answer.state in ("two_answers", "impossible"):
        why: Why = "two_answers" if answer.state == "two_answers" else "impossible"
        return Question(path, part.name, label, why, need, answer.entries)
    if not need or not begun or not _is_blank(case, answer, field):
        return None
    if not case.is_asked(field, wire.id if wire else None):
        return None
    return Question(path, part.name, label, "not_asked", need)


def _need(field: Field) -> str:
    """Return the need that opens a blank field; rows of a row only add detail."""
    if field.row_of:
        return ""
    return next((n for n in field.needs if n in OPENING_NEEDS), "")


def _impossible_rows(
    case: Case, part: Part, path: str, field: Field
) -> Iterator[Question]:
    """Yield one question for each value in a row that cannot be."""
    for row in case.rows(path):
        for child in field.children:
            if child.name in row.value and (
                state_of(child, row.value[child.name]) == "impossible"
            ):
                label = f"{field.label}: {child.label}"
                yield Question(path, part.name, label, "impossible", "", (row.id,))


def _is_blank(case: Case, answer: Answer, field: Field) -> bool:
    if field.kind == "group":
        return answer.state == "not_asked" and not case.rows(answer.path)
    return answer.state == "not_asked"


def _is_begun(case: Case, part: Part) -> bool:
    """Return whether any field of a later part holds anything."""
    return any(
        case.answer(path).heads or case.rows(path) for path, _, _ in places(case, part)
    )
