"""Every part of the record in print: what was answered, absent, double, impossible.

A field nobody touched is not printed here, and never as "no"; it stands in the
list of what was not recorded.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from webapp.catalogue.model import Field, Part
from webapp.catalogue.words import words
from webapp.note.blocks import Block, Heading, Line, Mark, Said, Sketch
from webapp.note.rows import rows_block
from webapp.note.casewords import entered
from webapp.note.sources import Sources
from webapp.note.tests_drawn import DRAWN_BEFORE, tests_drawn
from webapp.record.case import Case, Wire, state_of

def part_blocks(sources: Sources, part: Part) -> list[Block]:
    """Return a part's blocks with its heading, or nothing when it holds nothing."""
    case = sources.case
    wires = case.wires if len(case.wires) > 1 else []
    blocks: list[Block] = []
    for section in part.sections:
        own = [f for f in section.fields if not (wires and f.per_wire)]
        found = list(_fields(sources, part, own, None))
        blocks += [Heading(section.title), *found] if found else []
    for wire in wires:
        per_wire = [f for f in part.fields() if f.per_wire]
        found = list(_fields(sources, part, per_wire, wire))
        blocks += [Heading(wire.name), *found] if found else []
    return [Heading(part.label, 1), *blocks] if blocks else []


def _fields(
    sources: Sources, part: Part, fields: list[Field], wire: Wire | None
) -> Iterator[Block]:
    for field in fields:
        for path in _paths(sources.case, part, field, wire):
            yield from _field(sources, field, path)


def _paths(case: Case, part: Part, field: Field, wire: Wire | None) -> list[str]:
    path = f"{part.name}.{field.name}"
    return [case.wire_path(wire, path)] if wire else case.paths_of(path)


def _field(sources: Sources, field: Field, path: str) -> Iterator[Block]:
    case, day = sources.case, sources.day
    heads = case.fold["values"].get(path, [])
    if field.kind == "drawing" and len(heads) == 1:
        yield from _sketch(case, field, heads[0], day)
    elif heads:
        yield Line(field.label, tuple(_said(case, field, h, heads, day) for h in heads))
    if field.kind == "group" and case.rows(path):
        if field.name == DRAWN_BEFORE:
            owner = next(w for w in case.wires if path.startswith(f"wires/{w.id}/"))
            part = path.rpartition("/")[2].partition(".")[0]
            yield from tests_drawn(sources, owner, part)
        yield rows_block(case, field, path, day)


def _said(
    case: Case,
    field: Field,
    head: dict[str, Any],
    heads: list[dict[str, Any]],
    day: str,
) -> Said:
    who = entered(case, head["entries"][0], day)
    mark = mark_of(field, head["value"])
    if len(heads) > 1 and not mark:
        mark = "two_answers"
    return Said(words(field, head["value"], day), who, mark)


def mark_of(field: Field, value: Any) -> Mark:
    """Return how a single value is marked: as absent, as impossible, or not."""
    state = state_of(field, value)
    if state == "impossible":
        return "impossible"
    return "absent" if state in ("not_known", "not_done", "not_asked") else ""


def _sketch(
    case: Case, field: Field, head: dict[str, Any], day: str
) -> Iterator[Block]:
    who = entered(case, head["entries"][0], day)
    if state_of(field, head["value"]) == "answered":
        yield Sketch(field.label, head["value"], who)
    else:
        yield Line(field.label, (_said(case, field, head, [head], day),))
