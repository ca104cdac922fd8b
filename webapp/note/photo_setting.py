"""Set a photo: its picture as it was kept for showing, its caption and its digest."""

from __future__ import annotations

import hashlib
import io
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFImageXObject
from reportlab.platypus import Flowable, KeepTogether

from webapp.note.blocks import Photo
from webapp.note.long_text import flowing
from webapp.note.styles import BODY, CAPTION, QUIET_BODY, WHO, plain
from webapp.say import say

HIGHEST_PT = 320.0
# A small picture stays small: no finer than 144 pixels an inch on paper.
LARGEST_PIXEL_PT = 0.5


class Picture(Flowable):
    """A JPEG whose very bytes go into the file: nothing is decoded or made anew."""

    def __init__(self, jpeg: bytes, width: float) -> None:
        super().__init__()
        self.name = hashlib.sha256(jpeg).hexdigest()
        self.image: Any = PDFImageXObject(self.name)
        if not self.image.loadImageFromJPEG(io.BytesIO(jpeg)):
            raise ValueError("a picture to print is a whole JPEG")
        wide, high = float(self.image.width), float(self.image.height)
        scale = min(LARGEST_PIXEL_PT, width / wide, HIGHEST_PT / high)
        self.width, self.height = wide * scale, high * scale

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        return self.width, self.height + 4

    def draw(self) -> None:
        canvas: Any = self.canv
        document = canvas._doc
        place = document.getXObjectName(self.name)
        if place not in document.idToObject:
            canvas._setXObjects(self.image)
            document.Reference(self.image, place)
            document.addForm(self.name, self.image)
        canvas._currentPageHasImages = 1
        canvas.saveState()
        canvas.translate(0, 2)
        canvas.scale(self.width, self.height)
        canvas._code.append(f"/{place} Do")
        canvas.restoreState()
        canvas._formsinuse.append(self.name)


def set_photo(photo: Photo, width: float) -> list[Flowable]:
    """Return a photo with its words, kept together; words alone when it is not here."""
    told: list[Flowable] = [plain(photo.label, CAPTION)]
    if photo.jpeg is not None:
        told.append(Picture(photo.jpeg, width))
    told += flowing(photo.caption, BODY)
    if photo.words:
        told.append(plain(photo.words, BODY))
    told.append(plain(say("photo.original", sha256=photo.sha256), QUIET_BODY))
    return [KeepTogether([*told, plain(photo.who, WHO)])]
