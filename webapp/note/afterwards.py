"""What was settled before signing and added after it, in words."""

from __future__ import annotations

from webapp.catalogue.lookup import ADDENDA, SETTLEMENTS
from webapp.note.blocks import Block, Heading, Line, Said
from webapp.note.sources import Sources
from webapp.record.case import Row
from webapp.say import say


def afterwards_blocks(sources: Sources) -> list[Block]:
    """Return reasons of corrections, then what papers were added; nothing for none."""
    settled = [_settled(sources, row) for row in sources.case.rows(SETTLEMENTS)]
    added = [_added(sources, row) for row in sources.case.rows(ADDENDA)]
    blocks: list[Block] = []
    if settled:
        blocks += [Heading(say("note.settled"), 1), *settled]
    if added:
        blocks += [Heading(say("note.added"), 1), *added]
    return blocks


def _settled(sources: Sources, row: Row) -> Line:
    path = str(row.value.get("path", ""))
    field = sources.case.catalogue.field(path)
    label = field.label if field else path
    because = row.words("because") or say("note.no_reason")
    return Line(label, (Said(because, sources.entered(row.id)),), wide=True)


def _added(sources: Sources, row: Row) -> Line:
    kind, number = row.words("kind"), row.words("number")
    label = say("added.number", kind=kind, number=number) if number else kind
    told = [(name, row.words(name)) for name in ("text", "because")]
    was, now = row.words("old_value"), row.words("new_value")
    words = [say(f"note.added_{name}", words=text) for name, text in told if text]
    if now:
        words.append(say("note.added_change", was=was or "–", now=now))
    said = Said(" ".join(words) or kind, sources.entered(row.id))
    return Line(label, (said,), wide=True)
