"""Make the note: the same input gives the same bytes, on every machine."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from webapp.clinical.policy import load
from webapp.clinical.policy_kept import read_back
from webapp.note.afterwards import afterwards_blocks
from webapp.note.attestation import attestation_blocks, signed_words
from webapp.note.authorship import authorship_blocks, people_blocks
from webapp.note.blocks import Block
from webapp.note.canvas import canvas_maker
from webapp.note.codes_block import code_blocks
from webapp.note.exact import facts_file
from webapp.note.identity import identity
from webapp.note.layout import (
    PAPERS,
    LeavePageOne,
    measured_top,
    page_one_widths,
    typeset,
)
from webapp.note.model import NoteInput
from webapp.note.narrative import narrative_blocks
from webapp.note.outside import outside_blocks
from webapp.note.parts import part_blocks
from webapp.note.remarks import remark_blocks
from webapp.note.running import Running, draw_page_number
from webapp.note.setting import set_blocks
from webapp.note.sources import Sources, sources_of
from webapp.note.struck import struck_blocks
from webapp.note.summary import Summary, summary
from webapp.note.summary_setting import set_summary
from webapp.note.times import full_words
from webapp.say import say


def build_note(note: NoteInput) -> bytes:
    """Return the note as PDF bytes. Reads no clock and writes nothing."""
    limits = read_back(note.policy) if note.policy else load()
    sources = sources_of(note.case, limits, note.photos)
    told = summary(sources)
    running = _running(note, sources)

    def number(canvas: Canvas, page: int, pages: int) -> None:
        draw_page_number(canvas, running, page, pages)

    maker = canvas_maker(note.printed_at, (facts_file(note),), number)
    top = measured_top(running, told, maker)
    story = _story(note, sources, told, running)
    return typeset(story, running, told, top, maker)


def _story(
    note: NoteInput, sources: Sources, told: Summary, running: Running
) -> list[Flowable]:
    blocks: list[Block] = [*narrative_blocks(sources), *people_blocks(sources)]
    blocks += remark_blocks(sources)
    for part in note.case.catalogue.parts:
        blocks += part_blocks(sources, part)
    blocks += outside_blocks(sources)
    blocks += afterwards_blocks(sources)
    blocks += struck_blocks(sources)
    blocks += authorship_blocks(note, sources)
    blocks += code_blocks(note, sources, told.gaps)
    blocks += attestation_blocks(note)
    first = set_summary(told, page_one_widths(running, told))
    return [*first, LeavePageOne(), *set_blocks(blocks, running.width)]


def _running(note: NoteInput, sources: Sources) -> Running:
    return Running(
        identity=identity(note.case, sources.day),
        hospital=note.hospital,
        signed=signed_words(note),
        footer=_footer(note),
        page_size=PAPERS[note.paper],
    )


def _footer(note: NoteInput) -> str:
    key = "note.footer_signed" if note.attestation else "note.footer_draft"
    words = say(
        key,
        printed=full_words(note.printed_at, note.zone),
        digest=note.digests.content[:16],
        decides=say("caution.decides"),
    )
    named = say("note.footer_record", record=note.record) if note.record else ""
    return f"{words} {named}".strip()
