"""The pages of a note as HTML, for another maker of PDF files to set."""

from __future__ import annotations

from html import escape

from webapp.clinical.policy import load
from webapp.note.attestation import attestation_blocks
from webapp.note.authorship import authorship_blocks, people_blocks
from webapp.note.blocks import Block, Heading, Laid, Line, Prose, Rows, Said, Tested
from webapp.note.model import NoteInput
from webapp.note.narrative import narrative_blocks
from webapp.note.outside import outside_blocks
from webapp.note.parts import part_blocks
from webapp.note.sources import sources_of

STYLE = """
@page { size: A4; margin: 14mm 12mm; @bottom-right {
  content: "page " counter(page) " of " counter(pages); } }
body { font-family: "Wiremark Sans", "DejaVu Sans", sans-serif; font-size: %spt; }
table { width: 100%%; border-collapse: collapse; }
td, th { text-align: left; vertical-align: top; border-bottom: 0.3pt solid #747d78; }
"""


def as_html(note: NoteInput, size_pt: float) -> str:
    """Return the note's words in tables and paragraphs, drawings as plain curves."""
    body = "\n".join(_html(block) for block in _blocks(note))
    return f"<style>{STYLE % size_pt}</style><body>{body}</body>"


def _blocks(note: NoteInput) -> list[Block]:
    sources = sources_of(note.case, load(note.policy), note.photos)
    blocks = [*narrative_blocks(sources), *people_blocks(sources)]
    for part in note.case.catalogue.parts:
        blocks += part_blocks(sources, part)
    blocks += outside_blocks(sources)
    blocks += authorship_blocks(note, sources)
    return [*blocks, *attestation_blocks(note)]


def _html(block: Block) -> str:
    match block:
        case Heading():
            return f"<h{block.level + 1}>{escape(block.words)}</h{block.level + 1}>"
        case Line():
            label = f"<td>{escape(block.label)}</td>"
            return f"<table><tr>{label}{_said(block.said)}</tr></table>"
        case Rows():
            head = "".join(f"<th>{escape(c)}</th>" for c in block.columns)
            rows = "".join(f"<tr>{_said(row)}</tr>" for row in block.rows)
            return f"<table><tr>{head}</tr>{rows}</table>"
        case Prose():
            return f"<p>{escape(block.words)}</p>"
        case Tested() | Laid():
            marks = "".join(f'<circle cx="{9 * n}" cy="{n}" r="2"/>' for n in range(30))
            return f'<svg width="300" height="60">{marks}</svg>'
        case _:
            return ""


def _said(said: tuple[Said, ...]) -> str:
    return "".join(f"<td>{escape(s.words)} {escape(s.who)}</td>" for s in said)
