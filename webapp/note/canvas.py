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
TOTAL_PAGES = "total-pages"


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


def canvas_maker(
    printed_at: datetime, files: tuple[Attached, ...]
) -> Callable[..., Canvas]:
    """Return what the document template calls to get its canvas.

    Nothing in the file depends on the clock, the machine or the process.
    """
    glyphs()

    def make(filename: Any, **rest: Any) -> Any:
        rest.update(
            invariant=1,
            pageCompression=1,
            pdfVersion=PDF_VERSION,
            lang=LANGUAGE,
            initialFontName=REGULAR,
        )
        canvas: Any = Canvas(filename, **rest)
        canvas._doc._timeStamp = _Stamp(printed_at)
        attach(canvas, files, printed_at)
        return canvas

    return make
