"""What was entered in error: struck, never gone."""

from __future__ import annotations

from webapp.note.blocks import Block, Heading, Line, Prose, Said
from webapp.note.rows import row_words
from webapp.note.sources import Sources
from webapp.record.case import Row
from webapp.say import say


def struck_blocks(sources: Sources) -> list[Block]:
    """Return every struck row with its words, who struck it, when and why."""
    case = sources.case
    rows = [
        row
        for path in sorted(case.fold["rows"])
        for row in case.rows(path, struck=True)
        if row.struck is not None
    ]
    if not rows:
        return []
    heading: list[Block] = [
        Heading(say("note.struck"), 1),
        Prose(say("note.struck_words"), quiet=True),
    ]
    return heading + [_line(sources, row) for row in rows]


def _line(sources: Sources, row: Row) -> Line:
    label = row.field.label if row.field else row.path
    words = row_words(row.field, row, sources.day) if row.field else ""
    mark = row.struck or {}
    struck_by = sources.entered(str(mark.get("by", "")))
    reason = mark.get("reason") or say("note.no_reason")
    return Line(
        label,
        (
            Said(words, sources.entered(row.id), "struck"),
            Said(say("note.struck_because", reason=reason), struck_by),
        ),
    )
