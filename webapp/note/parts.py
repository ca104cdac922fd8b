"""Every part of the record in print: what was answered, absent, double, impossible.

A field nobody touched is not printed here, and never as "no"; it stands in the
list of what was not recorded.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from webapp.catalogue.model import Field, Part
from webapp.note.blocks import Block, Heading, Laid, Line, Mark, Rows, Said, Sketch
from webapp.note.casewords import value_words
from webapp.note.dwelt import dwelt
from webapp.note.lie import wire_lie
from webapp.note.photos import blocks_at, photo_block
from webapp.note.rows import rows_block
from webapp.note.sources import Sources
from webapp.note.tests_drawn import DRAWN_BEFORE, tests_drawn
from webapp.record.case import Case, Wire, state_of
from webapp.say import say

RULED, OUT = "depth_reading", "removed_at"


def part_blocks(sources: Sources, part: Part) -> list[Block]:
    """Return a part's blocks with its heading, or nothing when it holds nothing."""
    wires = sources.case.wires if len(sources.case.wires) > 1 else []
    blocks: list[Block] = []
    for section in part.sections:
        own = [f for f in section.fields if not (wires and f.per_wire)]
        blocks += _titled(section.title, list(_fields(sources, part, own, None)))
    for wire in wires:
        per_wire = [f for f in part.fields() if f.per_wire]
        found = list(_fields(sources, part, per_wire, wire))
        blocks += [Heading(wire.name), *found] if found else []
    return [Heading(part.label, 1), *blocks] if blocks else []


def _titled(title: str, found: list[Block]) -> list[Block]:
    """Put a section's title above its blocks; one group alone says its own name."""
    if len(found) == 1 and isinstance(found[0], Rows):
        return [Heading(found[0].label), replace(found[0], label="")]
    if found and isinstance(found[0], Rows) and found[0].label == title:
        found[0] = replace(found[0], label="")
    return [Heading(title), *found] if found else []


def _fields(
    sources: Sources, part: Part, fields: list[Field], wire: Wire | None
) -> Iterator[Block]:
    for field in fields:
        for path in _paths(sources, part, field, wire):
            yield from _field(sources, field, path)


def _paths(sources: Sources, part: Part, field: Field, wire: Wire | None) -> list[str]:
    path = f"{part.name}.{field.name}"
    case = sources.case
    return [case.wire_path(wire, path)] if wire else case.paths_of(path)


def _field(sources: Sources, field: Field, path: str) -> Iterator[Block]:
    case = sources.case
    heads = case.fold["values"].get(path, [])
    if field.kind == "drawing" and len(heads) == 1:
        yield from _sketch(sources, field, heads[0])
    elif heads:
        several = len(heads) > 1
        yield Line(field.label, tuple(_said(sources, field, h, several) for h in heads))
        if field.kind == "photo":
            yield from _photos(sources, path)
        if field.name == OUT:
            yield from dwelt(case, _wire_of(case, path))
    if field.kind == "group" and case.rows(path):
        if field.name == DRAWN_BEFORE:
            owner = _wire_of(case, path)
            part = path.rpartition("/")[2].partition(".")[0]
            yield from tests_drawn(sources, owner, part)
        yield rows_block(sources, field, path)
        for row in case.rows(path):
            yield from blocks_at(sources.photos, row.id, sources.entered(row.id))
        if field.name == RULED and path != _last_ruled(sources):
            wire = _wire_of(case, path)
            yield Laid(say("note.lie"), wire_lie(case, wire, sources.day))


def _wire_of(case: Case, path: str) -> Wire:
    return next(w for w in case.wires if path.startswith(f"wires/{w.id}/"))


def _last_ruled(sources: Sources) -> str:
    """Return the path whose depths page 1 already draws."""
    case = sources.case
    return case.wire_path(case.wires[-1], f"advance.{RULED}") if case.wires else ""


def _said(sources: Sources, field: Field, head: dict[str, Any], several: bool) -> Said:
    who = sources.entered(head["entries"][0])
    mark = mark_of(field, head["value"])
    if several and not mark:
        mark = "two_answers"
    return Said(value_words(field, head["value"], sources.day), who, mark)


def mark_of(field: Field, value: Any) -> Mark:
    """Return how a single value is marked: as absent, as impossible, or not."""
    state = state_of(field, value)
    if state == "impossible":
        return "impossible"
    return "absent" if state in ("not_known", "not_done", "not_asked") else ""


def _photos(sources: Sources, path: str) -> Iterator[Block]:
    for one in sources.photos.named.get(path, ()):
        yield photo_block(sources.photos, one, sources.entered(one.entry))


def _sketch(sources: Sources, field: Field, head: dict[str, Any]) -> Iterator[Block]:
    if state_of(field, head["value"]) == "answered":
        who = sources.entered(head["entries"][0])
        yield Sketch(field.label, head["value"], who)
    else:
        yield Line(field.label, (_said(sources, field, head, several=False),))
