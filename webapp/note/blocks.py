"""What a page is made of before it is set: plain lines, rows and drawings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from webapp.note.ruler import WireLie
from webapp.note.step_down import StepMarks

Mark = Literal["", "absent", "two_answers", "impossible", "struck"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; `level` 1 is a part, 2 a section or a wire, 3 a drawing."""

    words: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Said:
    """One answer in words, marked for what it is, and who gave it when."""

    words: str
    who: str = ""
    mark: Mark = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One field with its answer, or with all of them where there are several.

    `wide`: it runs across the page even where it is short.
    """

    label: str
    said: tuple[Said, ...]
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Rows:
    """A group's rows under the columns that any of them fills."""

    label: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Said, ...], ...]


@dataclass(frozen=True, slots=True)
class Prose:
    """Running text."""

    words: str
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Sketch:
    """A drawing made by hand, such as a signature."""

    label: str
    drawing: dict[str, Any]
    who: str


@dataclass(frozen=True, slots=True)
class Tested:
    """The readings of one threshold test, to be drawn."""

    caption: str
    marks: StepMarks


@dataclass(frozen=True, slots=True)
class Laid:
    """How one wire lies, to be drawn as a depth ruler."""

    caption: str
    lie: WireLie


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo. `words`: why there is no picture; `sha256`: of the original bytes."""

    label: str
    caption: str
    who: str
    sha256: str
    words: str
    jpeg: bytes | None


@dataclass(frozen=True, slots=True)
class Weighed:
    """A remark under its weight's sign. `words`: weight word and finding.

    `told`: lines below it; `source`: what it rests on and whose limit it is.
    """

    weight: str
    words: str
    told: tuple[str, ...]
    source: str


Block = Heading | Line | Rows | Prose | Sketch | Photo | Tested | Laid | Weighed
