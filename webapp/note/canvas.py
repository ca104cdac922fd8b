"""The canvas of the note: embedded face only, real dates, the same bytes each time."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from reportlab.lib.utils import TimeStamp
from reportlab.pdfgen.canvas import Canvas

from webapp.note.attached import Attached, attach
from webapp.note.faces import REGULAR, glyphs

PDF_VERSION = (1, 7)
LANGUAGE = "en-GB"


class _Stamp(TimeStamp):
    """A fixed time in the place of the clock that the PDF writer would read."""

    def __init__(self, moment: datetime) -> None:
        super().__init__(1)
        offset = moment.utcoffset()
        minutes = round(offset.total_seconds() / 60) if offset else 0
        self.t = moment.timestamp()
        self.lt = moment.timetuple()
        self.YMDhms = tuple(moment.timetuple())[:6]
        sign = -1 if minutes < 0 else 1
        self.dhh, self.dmm = sign * (abs(minutes) // 60), sign * (abs(minutes) % 60)
        self.tzname = ""


class NoteCanvas(Canvas):
    """A canvas that adds to every page, at the end, what only the end knows."""

    finish: Callable[[Canvas, int, int], None] | None = None

    def __init__(self, *told: Any, **rest: Any) -> None:
        super().__init__(*told, **rest)
        self._begins: dict[str, int] = {}
        self._at_end: dict[int, list[Callable[[NoteCanvas], None]]] = {}

    def begins(self, part: str) -> None:
        """Note that a part begins on this page."""
        self._begins.setdefault(part, self.getPageNumber())

    def page_of(self, part: str) -> int:
        """Return the page a part begins on. Raises KeyError: it has not begun."""
        return self._begins[part]

    def at_end(self, draw: Callable[[NoteCanvas], None]) -> None:
        """Draw this on the present page once every page is set."""
        self._at_end.setdefault(self.getPageNumber(), []).append(draw)

    def save(self) -> None:
        """Draw `finish(canvas, page, pages)` onto each page, then write the file."""
        own: Any = self
        if own._code:
            self.showPage()
        pages = own._doc.Pages.pages
        for number, page in enumerate(pages, start=1):
            own._code = []
            if self.finish is not None:
                self.finish(self, number, len(pages))
            for draw in self._at_end.get(number, ()):
                draw(self)
            page.stream = "\n".join([page.stream, *own._code])
        own._code = []
        super().save()


def canvas_maker(
    printed_at: datetime,
    files: tuple[Attached, ...],
    finish: Callable[[Canvas, int, int], None],
) -> Callable[..., Canvas]:
    """Return what the document template calls to get its canvas.

    Nothing in the file depends on the clock, the machine or the process.
    """
    glyphs()

    def make(filename: Any, **rest: Any) -> Canvas:
        rest.update(
            invariant=1,
            pageCompression=1,
            pdfVersion=PDF_VERSION,
            lang=LANGUAGE,
            initialFontName=REGULAR,
        )
        canvas: Any = NoteCanvas(filename, **rest)
        canvas.finish = finish
        canvas._doc._timeStamp = _Stamp(printed_at)
        attach(canvas, files, printed_at)
        made: Canvas = canvas
        return made

    return make
