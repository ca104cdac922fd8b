"""Notes made from small records, and what a reader's tools find in them."""

from __future__ import annotations

import io
import subprocess
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from pdfminer.high_level import extract_pages
from pdfminer.layout import LAParams, LTChar, LTTextContainer, LTTextLine

from webapp.catalogue import CATALOGUE
from webapp.note.build import build_note
from webapp.note.model import Attestation, Digests, Head, NoteInput
from webapp.record.case import Case
from webapp.record.fold import Opened, fold
from webapp.record.streams import read_stream
from webapp.record.writer import body_of

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
ZONE = "America/Chicago"
PRINTED = datetime(2026, 5, 14, 11, 31, 12, tzinfo=ZoneInfo(ZONE))
# Boxes by their place alone: guessing columns takes most of the reader's time.
TOP_TO_BOTTOM = LAParams(boxes_flow=None)
CONTENT = "9f3c0a71" * 8
CHAIN = "5be8d204" * 8
SIGNED = Attestation(
    name="E. Tarn-Example",
    credential="MD",
    role="operator",
    signed_at=PRINTED,
    zone=ZONE,
    method="password, asked again at signing",
    statement="I reviewed and corrected these entries; they reflect my work.",
)


def quantity(typed: str, unit: str) -> dict[str, str]:
    """Return a quantity as the tablet keeps it: as typed, and canonical."""
    plain = typed.rstrip("0").rstrip(".") if "." in typed else typed
    return {"as": typed, "n": plain, "unit": unit}


def told_case(name: str) -> Case:
    """Return the case of `fixtures/<name>.json`."""
    stream = read_stream(FIXTURES / f"{name}.json")
    log = stream.drafts[0].id
    return Case(
        fold(
            Opened(draft.id, log, place, body_of(draft))
            for place, draft in enumerate(stream.drafts, start=1)
        ),
        CATALOGUE,
    )


def note_of(case: Case, **changed: Any) -> NoteInput:
    """Return a draft's input; `changed` replaces any of it."""
    note = NoteInput(
        case=case,
        attestation=None,
        head=Head(214, CHAIN),
        digests=Digests(CONTENT, len(case.fold["order"]), CATALOGUE.version, "1"),
        code_facts=(),
        hospital="Example Harbour Hospital",
        zone=ZONE,
        printed_at=PRINTED,
        limits="1",
        record="0199aaaa-0000-7000-8000-0000000000a1",
    )
    return replace(note, **changed)


@dataclass(frozen=True, slots=True)
class Word:
    """A line of text with its box in points, y from the bottom of the page."""

    text: str
    x0: float
    y0: float
    x1: float
    y1: float


@dataclass(frozen=True, slots=True)
class Page:
    """One page as pdfminer reads it; `letters` with their fonts and boxes."""

    width: float
    height: float
    lines: tuple[Word, ...]
    letters: tuple[LTChar, ...]

    @property
    def text(self) -> str:
        """Return all its text, spaces and line ends as one space."""
        return flat(" ".join(line.text for line in self.lines))


@dataclass(frozen=True, slots=True)
class Read:
    """A made note, as its readers' tools see it."""

    pdf: bytes
    pages: tuple[Page, ...]

    @property
    def text(self) -> str:
        """Return the text of all pages, spaces and line ends as one space."""
        return flat(" ".join(page.text for page in self.pages))

    @property
    def letters(self) -> str:
        """Return the text of all pages without any space, however it was broken."""
        return "".join(self.text.split())


def flat(text: str) -> str:
    """Return a text with every run of spaces and line ends as one space."""
    return " ".join(text.split())


def squeezed(text: str) -> str:
    """Return a text without any space, to be looked for in `Read.letters`."""
    return "".join(text.split())


def read(pdf: bytes) -> Read:
    """Return what pdfminer finds in a note, page by page, line by line."""
    pages = extract_pages(io.BytesIO(pdf), laparams=TOP_TO_BOTTOM)
    return Read(pdf, tuple(_page(page) for page in pages))


def made(case: Case, **changed: Any) -> Read:
    """Make a note and read it back."""
    return read(build_note(note_of(case, **changed)))


@cache
def made_from(name: str, paper: str = "A4") -> Read:
    """Make the draft of `fixtures/<name>.json` once, and read it back."""
    return made(told_case(name), paper=paper)


def _page(layout: Any) -> Page:
    lines = [
        Word(line.get_text().strip("\n"), *line.bbox)
        for box in layout
        if isinstance(box, LTTextContainer)
        for line in box
        if isinstance(line, LTTextLine)
    ]
    letters = tuple(_letters(layout))
    return Page(layout.width, layout.height, tuple(lines), letters)


def _letters(item: Any) -> list[LTChar]:
    if isinstance(item, LTChar):
        return [item]
    if hasattr(item, "__iter__"):
        return [letter for child in item for letter in _letters(child)]
    return []


def tool(name: str, *arguments: str) -> str:
    """Run an outside tool; its output. Fails loudly without it or when it fails."""
    done = subprocess.run(
        [name, *arguments], capture_output=True, text=True, timeout=120, check=False
    )
    assert done.returncode == 0, f"{name}: {done.stdout}{done.stderr}"
    return done.stdout
