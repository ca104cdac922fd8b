"""Where remarks stand in print: page 1's lines, and the section with all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.support.notes import Read, Word, flat

HEADING_PT = 15.0
ROW_PT = 2.0
WEIGHTS = ("Look now: ", "Look again: ", "Fits: ")


@dataclass
class Printed:
    """One remark as printed: page from 1, weight word and finding, lines below it."""

    page: int
    words: str
    below: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Return the lines below, line ends as spaces."""
        return flat(" ".join(self.below))


def section(note: Read) -> list[Printed]:
    """Return the remarks of the section "Remarks", by their places on its pages."""
    found: list[Printed] = []
    for page, line in _lines(note):
        if line.text.startswith(WEIGHTS):
            found.append(Printed(page, line.text))
        elif found and abs(line.x0 - _left(note, found[-1])) < ROW_PT:
            found[-1].below.append(line.text)
    return found


def section_page(note: Read) -> int:
    """Return the page on which the section begins."""
    return next(p for p, line in _headings(note) if line.text == "Remarks")


def head_of(note: Read) -> str:
    """Return what stands between the section's heading and its first remark."""
    told = []
    for _, line in _lines(note):
        if line.text.startswith(WEIGHTS):
            break
        told.append(line.text)
    return flat(" ".join(told))


def on_page_one(note: Read) -> list[str]:
    """Return page 1's lines under "Remarks not answered", down to the next title."""
    lines = sorted(note.pages[0].lines, key=lambda line: -line.y0)
    at = [n for n, line in enumerate(lines) if line.text == "Remarks not answered"]
    if not at:
        return []
    head = lines[at[0]]
    right = [line for line in lines[at[0] + 1 :] if line.x0 >= head.x0 - ROW_PT]
    told = []
    for line in right:
        if abs(line.x0 - head.x0) < ROW_PT:
            break
        told.append(line.text)
    return told


def _left(note: Read, one: Printed) -> float:
    lines = note.pages[one.page - 1].lines
    return next(line.x0 for line in lines if line.text == one.words)


def _lines(note: Read) -> Iterator[tuple[int, Word]]:
    """Give the section's lines, down to the heading after it."""
    headings = list(_headings(note))
    at = next(n for n, (_, line) in enumerate(headings) if line.text == "Remarks")
    (first, begin), (last, end) = headings[at], headings[at + 1]
    for page in range(first, last + 1):
        words = sorted(note.pages[page - 1].lines, key=lambda line: -line.y0)
        for line in words:
            is_after = page > first or line.y0 < begin.y0
            is_before = page < last or line.y0 > end.y0
            if is_after and is_before and not _is_margin(note, page, line):
                yield page, line


def _is_margin(note: Read, page: int, line: Word) -> bool:
    high = note.pages[page - 1].height
    return line.y0 < 46 or line.y0 > high - 60


def _headings(note: Read) -> Iterator[tuple[int, Word]]:
    for number, page in enumerate(note.pages, start=1):
        for line in sorted(page.lines, key=lambda one: -one.y0):
            is_high = line.y1 - line.y0 > HEADING_PT - 2
            if number > 1 and is_high and not _is_margin_top(page.height, line):
                yield number, line


def _is_margin_top(high: float, line: Word) -> bool:
    return line.y0 > high - 46
