"""The largest and oddest records: nothing cut, nothing over another, no blank box."""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from itertools import combinations, product
from pathlib import Path

import pytest
from pdfminer.layout import LTChar

from tests.support.notes import Read, note_of, quantity, read, squeezed, tool
from tests.support.photographs import png
from tests.support.records import Recording
from webapp.note.build import build_note
from webapp.note.model import NoteInput, NotePhoto
from webapp.record.entry import sha256_hex
from webapp.record.photo_picture import read_picture

NAME = "<b>Ó'Brien & Søn</b>"
SCRIPTS = ("Łukasz Żółć", "Ελένη", "Борис", "שלום", "محمد", "山田太郎")
READINGS, COMPLICATIONS, PHOTOS = 200, 40, 20
WORDS = 20_000
# As much of a letter's box as its neighbour's may reach into: kerning and slanted feet.
TOUCH = 0.3


def empty(record: Recording) -> NoteInput:
    return note_of(record.case)


def crowded(record: Recording) -> NoteInput:
    """Answer with the most of everything."""
    record.says("patient.family_name", NAME)
    record.says("finish.technique", "\n".join(SCRIPTS))
    record.says("finish.findings", " ".join(f"w{n}" for n in range(WORDS)) + " LAST")
    wire = record.wire({"approach.site": "internal_jugular_right"})
    photos: dict[tuple[str, str], NotePhoto] = {}
    for n in range(READINGS):
        row = {"depth": quantity(str(n % 60), "cm"), "result": "svc"}
        if n < PHOTOS:
            row["strip"] = _photo(n)
        entry = record.adds(f"wires/{wire}/advance.depth_reading", row)
        if n < PHOTOS:
            shown = NotePhoto("", read_picture(png(60 + n, 40)).jpeg)
            photos[entry, row["strip"]["sealed"]] = shown
    test = record.adds(f"wires/{wire}/capture.threshold_test", {"kind": "full"})
    for n in range(READINGS):
        row = {"of": test, "output": quantity(f"{20 - n / 10:.1f}", "mA")}
        row["result"] = "captures" if n < READINGS - 1 else "no_capture"
        record.adds(f"wires/{wire}/capture.output_reading", row)
    for n in range(COMPLICATIONS):
        what = {"kind": "vt_vf", "outcome": f"complication number {n}"}
        record.adds("finish.complication", what)
    return note_of(record.case, photos=photos)


def _photo(n: int) -> dict[str, object]:
    named = sha256_hex(f"photo {n}".encode())
    told = {"sha256": named, "sealed": named, "type": "image/png", "size": 9}
    return {**told, "caption": f"strip number {n}"}


RECORDS = {"empty": empty, "crowded": crowded}


@cache
def note(name: str, paper: str) -> Read:
    told = RECORDS[name](Recording())
    return read(build_note(note_of(told.case, photos=told.photos, paper=paper)))


every_note = pytest.mark.parametrize(
    ("name", "paper"), list(product(RECORDS, ("A4", "Letter"))), ids=str
)


@every_note
def test_qpdf_finds_nothing_wrong(name: str, paper: str, tmp_path: Path) -> None:
    file = tmp_path / "note.pdf"
    file.write_bytes(note(name, paper).pdf)
    assert "No syntax or stream encoding errors" in tool("qpdf", "--check", str(file))


@every_note
def test_every_letter_lies_on_the_page(name: str, paper: str) -> None:
    for page in note(name, paper).pages:
        for letter in page.letters:
            if letter.get_text().strip():
                assert letter.x0 >= 34, letter
                assert letter.x1 <= page.width - 34, letter
                assert letter.y0 >= 8, letter
                assert letter.y1 <= page.height - 8, letter


@every_note
def test_no_letter_lies_over_another(name: str, paper: str) -> None:
    for number, page in enumerate(note(name, paper).pages, start=1):
        over = list(_overlapping(page.letters))
        assert over == [], f"page {number}"


@every_note
def test_no_letter_is_a_box(name: str, paper: str) -> None:
    found = note(name, paper)
    assert "\u25a0" not in found.text
    assert "(cid:" not in found.text


def test_the_last_of_everything_is_there() -> None:
    letters = note("crowded", "A4").letters
    assert "w19999LAST" in letters
    assert squeezed(NAME) in letters
    for n in range(COMPLICATIONS):
        assert f"complicationnumber{n}" in letters
    for n in range(PHOTOS):
        assert f"stripnumber{n}" in letters


@pytest.mark.parametrize("written", SCRIPTS[:3])
def test_scripts_the_face_has_are_printed_as_written(written: str) -> None:
    assert squeezed(written) in note("crowded", "A4").letters


@pytest.mark.parametrize("written", SCRIPTS[3:])
def test_other_scripts_are_named_letter_by_letter(written: str) -> None:
    letters = note("crowded", "A4").letters
    assert written not in letters
    assert f"U+{ord(written[0]):04X}" in letters


def _overlapping(letters: tuple[LTChar, ...]) -> list[str]:
    """Return pairs of letters whose boxes lie over one another."""
    cells: dict[tuple[int, int], list[LTChar]] = defaultdict(list)
    for letter in letters:
        if letter.get_text().strip() and letter.upright:
            for cell in product(
                range(int(letter.x0) // 12, int(letter.x1) // 12 + 1),
                range(int(letter.y0) // 12, int(letter.y1) // 12 + 1),
            ):
                cells[cell].append(letter)
    found = {
        f"{a.get_text()} {b.get_text()} at {a.x0:.0f} {a.y0:.0f}"
        for near in cells.values()
        for a, b in combinations(near, 2)
        if _share(a, b) > TOUCH
    }
    return sorted(found)


def _share(a: LTChar, b: LTChar) -> float:
    """Return how much of the smaller box lies within the other, heights halved.

    A line's box is taller than its letters: only the middle of it is ink.
    """
    wide = min(a.x1, b.x1) - max(a.x0, b.x0)
    low_a, high_a = _ink(a)
    low_b, high_b = _ink(b)
    high = min(high_a, high_b) - max(low_a, low_b)
    if wide <= 0 or high <= 0:
        return 0.0
    least = min((a.x1 - a.x0) * (high_a - low_a), (b.x1 - b.x0) * (high_b - low_b))
    return wide * high / least if least else 0.0


def _ink(letter: LTChar) -> tuple[float, float]:
    quarter = (letter.y1 - letter.y0) / 4
    return letter.y0 + quarter, letter.y1 - quarter
