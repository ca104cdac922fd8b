"""The paper of what is added after signing: late entry, addendum, correction …

It stands beside the signed note, whose bytes it names and never changes.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from reportlab.pdfgen.canvas import Canvas

from webapp.note.attestation import digest_lines, grouped, signature_blocks
from webapp.note.blocks import Block, Heading, Line, Prose, Said
from webapp.note.canvas import canvas_maker
from webapp.note.identity import Identity
from webapp.note.layout import PAPERS, typeset_added
from webapp.note.model import Attestation, Digests, Head, Paper
from webapp.note.running import Running, draw_page_number
from webapp.note.setting import set_blocks
from webapp.note.times import full_words
from webapp.say import say


@dataclass(frozen=True, slots=True)
class TakenUp:
    """A late entry: its field, what the note says there, what it says, by whom."""

    label: str
    was: str
    now: str
    who: str


@dataclass(frozen=True, slots=True)
class AddedPaper:
    """Everything one such paper says; the same input gives the same bytes.

    `kind`: in words; `number`: of the record's papers, from 1; `said`: label and
    words of what was written; `then`: the identity in the signed note where it
    differs, else None; `note_version`, `note_sha256`: the signed note's.
    """

    identity: Identity
    then: Identity | None
    kind: str
    number: int
    said: tuple[tuple[str, str], ...]
    taken_up: tuple[TakenUp, ...]
    attestation: Attestation
    digests: Digests
    head: Head
    note_version: int
    note_sha256: str
    hospital: str
    zone: str
    record: str
    paper: Paper = "A4"

    @property
    def made_at(self) -> datetime:
        """Return when it was signed, which is when it was made."""
        return self.attestation.signed_at


def build_added(paper: AddedPaper) -> bytes:
    """Return the paper as PDF bytes. Reads no clock and writes nothing."""
    running = _running(paper)

    def number(canvas: Canvas, page: int, pages: int) -> None:
        draw_page_number(canvas, running, page, pages)

    maker = canvas_maker(paper.made_at, (), number)
    return typeset_added(set_blocks(_blocks(paper), running.width), running, maker)


def _blocks(paper: AddedPaper) -> list[Block]:
    title = say("added.number", kind=paper.kind, number=paper.number)
    blocks: list[Block] = [Heading(title, 1), Prose(say("added.kept_note"))]
    blocks += _identities(paper)
    blocks += [Line(label, (Said(words),), wide=True) for label, words in paper.said]
    if paper.taken_up:
        blocks.append(Heading(say("added.late")))
    for late in paper.taken_up:
        blocks += _taken_up(late)
    blocks += signature_blocks(paper.attestation, say("note.signature"))
    blocks += [
        Heading(say("note.fixed_by")),
        _line(say("added.note_version"), str(paper.note_version)),
        _line(say("added.note_digest"), grouped(paper.note_sha256)),
        *digest_lines(paper.digests, paper.head),
    ]
    return blocks


def _identities(paper: AddedPaper) -> list[Block]:
    if paper.then is None:
        return []
    return [
        _line(say("added.identity_then"), paper.then.short),
        _line(say("added.identity_now"), paper.identity.short),
    ]


def _taken_up(late: TakenUp) -> list[Block]:
    was = [Said(late.was)] if late.was else []
    lines: list[Block] = [Heading(say("added.late_label", label=late.label), 3)]
    lines += [Line(say("added.was"), (said,), wide=True) for said in was]
    lines.append(Line(say("added.now"), (Said(late.now, late.who),), wide=True))
    return lines


def _running(paper: AddedPaper) -> Running:
    footer = say(
        "added.footer",
        printed=full_words(paper.made_at, paper.zone),
        digest=paper.digests.content[:16],
        decides=say("caution.decides"),
    )
    named = say("note.footer_record", record=paper.record)
    return Running(
        identity=paper.identity,
        hospital=paper.hospital,
        signed=say("added.signed", name=paper.attestation.name),
        footer=f"{footer} {named}",
        page_size=PAPERS[paper.paper],
    )


def _line(label: str, words: str) -> Line:
    return Line(label, (Said(words),), wide=True)
