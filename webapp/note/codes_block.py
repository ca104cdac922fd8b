"""The coded part of the note: candidates for a coder, never a claim.

No billing number, unit, modifier, place of service or rule is printed here; what
comes in was evaluated elsewhere. Source: fixtures/sources.md#coding-4.
"""

from __future__ import annotations

import re

from webapp.note.blocks import Block, Heading, Line, Prose, Said
from webapp.note.casewords import SEPARATOR
from webapp.note.gaps import Gaps
from webapp.note.model import CodeFact, FactKind, NoteInput
from webapp.note.sources import Sources
from webapp.say import say

KINDS: tuple[FactKind, ...] = ("diagnosis", "procedure", "separate", "not_recorded")
# CPT: five digits, or four and a letter; HCPCS level II: a letter and four digits.
BILLING = re.compile(r"[0-9]{4}[0-9A-Z]|[A-Z][0-9]{4}")


def code_blocks(note: NoteInput, sources: Sources, found: Gaps) -> list[Block]:
    """Return the four blocks with their heading, under half a page as a rule."""
    blocks: list[Block] = [Heading(say("note.coded_facts"), 1)]
    blocks += [Prose(words) for words in note.code_head]
    for kind in KINDS:
        blocks.append(Heading(say(f"note.coded.{kind}")))
        facts = [f for f in note.code_facts if f.kind == kind]
        if kind == "not_recorded":
            blocks += _not_recorded(facts, found)
        elif facts:
            blocks += [_fact(note, fact) for fact in facts]
        else:
            blocks.append(Prose(say("note.coded.none_recorded")))
    return blocks


def _fact(note: NoteInput, fact: CodeFact) -> Line:
    code = "" if BILLING.fullmatch(fact.code) else fact.code
    label = " ".join(p for p in (code, fact.edition if code else "") if p)
    words = fact.words
    if code and not fact.confirmed:
        words = say("note.coded.unconfirmed", words=words)
    who = say("note.coded.stated_by", name=fact.stated_by) if fact.stated_by else ""
    places = [_place(note, entry) for entry in fact.evidence]
    if places:
        evidence = say("note.coded.evidence", places=", ".join(places))
        who = f"{who}, {evidence}" if who else evidence
    return Line(label or "–", (Said(words, who),))


def _place(note: NoteInput, entry: str) -> str:
    """Return an entry's number in the record's order, as the note counts them."""
    order = note.case.fold["order"]
    return str(order.index(entry) + 1) if entry in order else "–"


def _not_recorded(facts: list[CodeFact], found: Gaps) -> list[Block]:
    blocks: list[Block] = (
        [_line(say("note.coded.for_codes"), SEPARATOR.join(f.words for f in facts))]
        if facts
        else []
    )
    needed = [_line(part, SEPARATOR.join(labels)) for part, labels in found.missing]
    also = [_line(part, SEPARATOR.join(labels)) for part, labels in found.also_missing]
    if needed:
        blocks += [Prose(say("note.missing_needed"), quiet=True), *needed]
    if also:
        blocks += [Prose(say("note.missing_also"), quiet=True), *also]
    return blocks or [Prose(say("note.nothing_missing"))]


def _line(label: str, words: str) -> Line:
    return Line(label, (Said(words),), wide=True)
