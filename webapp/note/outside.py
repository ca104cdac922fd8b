"""What belongs to no part: moments, wires, remarks answered."""

from __future__ import annotations

from dataclasses import replace

from webapp.catalogue.lookup import ADDENDA, SETTLEMENTS
from webapp.note.blocks import Block, Heading, Line, Said
from webapp.note.moments import happened
from webapp.note.remarks import answers_told
from webapp.note.rows import rows_block
from webapp.note.sources import Sources
from webapp.say import say

# Moments are listed above; signatures, reasons and addenda have their own blocks.
ELSEWHERE = ("moments", "attestations", ADDENDA, SETTLEMENTS)


def outside_blocks(sources: Sources) -> list[Block]:
    """Return the times in order, then every other group outside the parts."""
    case, day = sources.case, sources.day
    blocks: list[Block] = []
    times = happened(case, day)
    if times:
        blocks.append(Heading(say("note.times"), 1))
        blocks += [Line(h.label, (Said(h.words),)) for h in times]
    found: list[Block] = []
    # An answer to what is no longer found so has no remark to stand with.
    told = answers_told(sources)
    for path in _paths(sources):
        field = case.catalogue.field(path)
        _, _, remark = path.partition("remarks.")
        if field is not None and any(row.id not in told for row in case.rows(path)):
            block = rows_block(sources, field, path, told)
            if remark:
                name = remark.replace("_", " ")
                block = replace(block, label=say("note.remark", name=name))
            found.append(block)
    if found:
        blocks += [Heading(say("note.outside"), 1), *found]
    return blocks


def _paths(sources: Sources) -> list[str]:
    case = sources.case
    names = [f.name for f in case.catalogue.top if f.name not in ELSEWHERE]
    remarks = [p for p in sorted(case.fold["rows"]) if p.startswith("remarks.")]
    return names + remarks
