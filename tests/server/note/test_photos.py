"""Photos on paper: the picture where its value stands, with caption and digest."""

from __future__ import annotations

import io
import os
import pickle
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTFigure, LTImage
from PIL import Image

from tests.support.notes import flat, made, note_of, read, tool
from tests.support.photographs import (
    BLUE,
    RED,
    encoded,
    held_sideways,
    is_near,
    png,
    two_colours,
)
from tests.support.records import Recording
from webapp.note.build import build_note
from webapp.note.model import NoteInput, NotePhoto
from webapp.note.photo_setting import HIGHEST_PT, LARGEST_PIXEL_PT
from webapp.record.entry import sha256_hex
from webapp.record.photo_picture import read_picture
from webapp.say import say

FIELD = "approach.image_photo"


def value(original: bytes, caption: str = "RV, 34 cm") -> dict[str, Any]:
    sealed = sha256_hex(b"sealed" + original)
    told = {"sha256": sha256_hex(original), "sealed": sealed, "type": "image/png"}
    return {**told, "size": len(original), "caption": caption}


def noted(original: bytes | None = None, **told: Any) -> NoteInput:
    """Return the note of a record with one photo beside a field."""
    record = Recording()
    of = value(original or png())
    entry = record.wire({FIELD: of}) if told.get("is_wire") else record.says(FIELD, of)
    shown = told.get("shown") or NotePhoto("", read_picture(original or png()).jpeg)
    return note_of(record.case, photos={(entry, of["sealed"]): shown})


def images(pdf: bytes) -> list[tuple[int, LTImage]]:
    """Return each picture with the number of its page."""
    found: list[tuple[int, LTImage]] = []

    def look(item: Any, page: int) -> None:
        if isinstance(item, LTImage):
            found.append((page, item))
        elif isinstance(item, LTFigure) or hasattr(item, "pageid"):
            for child in item:
                look(child, page)

    for number, page in enumerate(extract_pages(io.BytesIO(pdf)), start=1):
        look(page, number)
    return found


def test_the_picture_stands_under_its_field_and_above_its_caption_and_digest() -> None:
    pdf = build_note(noted())
    [(number, image)] = images(pdf)
    page = read(pdf).pages[number - 1]
    told = {flat(line.text): line for line in page.lines}
    [above] = [t for w, t in told.items() if w == "Photo of the image"][-1:]
    caption, digest = (
        told["RV, 34 cm"],
        told[say("photo.original", sha256=sha256_hex(png()))],
    )
    assert above.y0 >= image.y1 - 1
    assert image.y0 >= caption.y1 - 1
    assert caption.y0 >= digest.y1 - 1
    for line in (above, caption, digest):
        assert line.x0 == pytest.approx(image.x0, abs=1)


def test_the_picture_is_on_paper_as_it_is_shown(tmp_path) -> None:
    pdf = build_note(noted(held_sideways()))
    [(_, image)] = images(pdf)
    wide, high = image.x1 - image.x0, image.y1 - image.y0
    assert wide / high == pytest.approx(40 / 60, rel=0.01)
    file = tmp_path / "note.pdf"
    file.write_bytes(pdf)
    tool("pdfimages", "-png", str(file), str(tmp_path / "taken"))
    [taken] = tmp_path.glob("taken*.png")
    shown = Image.open(taken).convert("RGB")
    assert shown.size == (40, 60)
    assert is_near(shown.getpixel((20, 5)), BLUE)
    assert is_near(shown.getpixel((20, 55)), RED)


def test_the_very_bytes_that_are_shown_lie_in_the_file() -> None:
    note = noted()
    [photo] = note.photos.values()
    [(_, image)] = images(build_note(note))
    assert image.stream.get_data() == photo.jpeg


SHAPES = {
    "one pixel": encoded(Image.new("RGB", (1, 1), RED)),
    "a long strip": encoded(Image.new("RGB", (8000, 200), RED)),
    "a tall one": encoded(Image.new("RGB", (200, 8000), RED)),
    "large": encoded(two_colours(4000, 3000), "JPEG"),
    "CMYK": encoded(two_colours().convert("CMYK"), "JPEG"),
    "see-through": encoded(Image.new("RGBA", (60, 40), (0, 0, 0, 0))),
    "grey": encoded(two_colours().convert("L")),
}


@pytest.mark.parametrize("original", SHAPES.values(), ids=SHAPES)
def test_a_picture_of_any_shape_lies_within_the_page(original, tmp_path) -> None:
    pdf = build_note(noted(original))
    [(number, image)] = images(pdf)
    page = read(pdf).pages[number - 1]
    assert image.x0 >= 34
    assert image.x1 <= page.width - 34
    assert image.y0 >= 20
    assert image.y1 <= page.height - 20
    assert image.y1 - image.y0 <= HIGHEST_PT + 0.01
    assert image.x1 - image.x0 <= max(image.srcsize) * LARGEST_PIXEL_PT + 0.01
    file = tmp_path / "note.pdf"
    file.write_bytes(pdf)
    assert "No syntax or stream encoding errors" in tool("qpdf", "--check", str(file))


def test_what_is_see_through_is_white_on_paper(tmp_path) -> None:
    file = tmp_path / "note.pdf"
    file.write_bytes(build_note(noted(SHAPES["see-through"])))
    tool("pdfimages", "-png", str(file), str(tmp_path / "taken"))
    [taken] = tmp_path.glob("taken*.png")
    assert Image.open(taken).convert("RGB").getpixel((30, 20)) == (255, 255, 255)


@pytest.mark.parametrize(
    "words", [say("note.photo_awaited"), say("photo.gone")], ids=["awaited", "erased"]
)
def test_a_photo_that_is_not_there_is_named_with_its_digest(words) -> None:
    note = noted(shown=NotePhoto(words))
    found = read(build_note(note))
    assert flat(words) in found.text
    assert sha256_hex(png()) in found.letters
    assert images(found.pdf) == []


def test_a_photo_of_which_nothing_is_told_is_named_as_not_here() -> None:
    record = Recording()
    record.says(FIELD, value(png()))
    found = made(record.case)
    assert flat(say("note.photo_awaited")) in found.text
    assert sha256_hex(png()) in found.letters


def test_photos_in_rows_stand_below_their_rows_and_a_struck_one_is_left_out() -> None:
    record = Recording()
    photos: dict[tuple[str, str], NotePhoto] = {}
    for height in (8, 9, 10):
        of = value(png(9, height), f"picture {height}")
        row = record.adds("finish.imaging", {"photo": of})
        photos[row, of["sealed"]] = NotePhoto("", read_picture(png(9, height)).jpeg)
        if height == 9:
            record.strikes("finish.imaging", row)
    pdf = build_note(note_of(record.case, photos=photos))
    assert sorted(image.srcsize for _, image in images(pdf)) == [(9, 8), (9, 10)]
    letters = read(pdf).letters
    assert letters.index("picture8") < letters.index("picture10")


def test_two_answers_are_two_pictures() -> None:
    record = Recording()
    photos = {}
    for height in (8, 9):
        of = value(png(9, height))
        entry = record.says(FIELD, of)
        photos[entry, of["sealed"]] = NotePhoto("", read_picture(png(9, height)).jpeg)
    pdf = build_note(note_of(record.case, photos=photos))
    assert len(images(pdf)) == 2


def test_the_same_photo_in_two_places_lies_in_the_file_once(tmp_path) -> None:
    record = Recording()
    of, jpeg = value(png()), read_picture(png()).jpeg
    places = [record.says(FIELD, of), record.adds("finish.imaging", {"photo": of})]
    photos = {(place, of["sealed"]): NotePhoto("", jpeg) for place in places}
    pdf = build_note(note_of(record.case, photos=photos))
    assert len(images(pdf)) == 2
    assert pdf.count(b"/Subtype /Image") == 1


def test_a_caption_is_printed_as_typed_however_long_it_is() -> None:
    record = Recording()
    caption = "<b>&amp; " + "w " * 4000 + "LAST"
    of = value(png(), caption)
    entry = record.says(FIELD, of)
    shown = NotePhoto("", read_picture(png()).jpeg)
    found = made(record.case, photos={(entry, of["sealed"]): shown})
    # In its field's line, and under its picture.
    assert found.letters.count("<b>&amp;www") == 2
    assert found.letters.count("wwwLAST") == 2
    assert len(images(found.pdf)) == 1


def test_the_same_photos_give_the_same_bytes_in_two_processes(tmp_path) -> None:
    note = noted(SHAPES["large"])
    packed = tmp_path / "note.pickle"
    packed.write_bytes(pickle.dumps(note))
    script = (
        "import pickle, sys; from webapp.note.build import build_note;"
        "sys.stdout.buffer.write(build_note(pickle.load(open(sys.argv[1], 'rb'))))"
    )
    hers = subprocess.run(
        [sys.executable, "-c", script, str(packed)],
        capture_output=True,
        check=True,
        cwd=Path(__file__).parents[3],
        env={**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo"},
    ).stdout
    assert build_note(note) == hers == build_note(note)
