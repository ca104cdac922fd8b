"""Decimals have a shape, on paper as on the glass."""

from __future__ import annotations

import io

import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.support.notes import read, tool
from webapp.note.faces import BOLD, REGULAR, glyphs
from webapp.note.ink import TEXT
from webapp.note.numbers import draw_number, is_shaped, number_width_pt

PAGE = (160, 60)


def drawn(text: str, size_pt: float = 36) -> bytes:
    glyphs()
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=PAGE, initialFontName=REGULAR, invariant=1)
    draw_number(canvas, 10, 15, text, size_pt, TEXT)
    canvas.save()
    return out.getvalue()


def pixels(text: str, tmp_path) -> list[int]:
    file = tmp_path / f"{text}.pdf"
    file.write_bytes(drawn(text))
    stem = tmp_path / text
    tool("pdftoppm", "-gray", "-r", "150", "-singlefile", str(file), str(stem))
    data = (tmp_path / f"{text}.pgm").read_bytes()
    # A PGM: "P5", width and height, the largest value, then one byte a pixel.
    header, width, height, most = data.split(None, 4)[:4]
    assert (header, most) == (b"P5", b"255")
    return list(data[-int(width) * int(height) :])


@pytest.mark.parametrize(("one", "other"), [("1.0", "10"), ("0.8", "8"), ("3.0", "30")])
def test_a_number_and_its_pointless_twin_differ_by_a_quarter_of_their_ink(
    one: str, other: str, tmp_path
) -> None:
    """ux.md section 4, rule 2."""
    a, b = pixels(one, tmp_path), pixels(other, tmp_path)
    ink = sum(255 - p for p in a) + sum(255 - p for p in b)
    apart = sum(abs(x - y) for x, y in zip(a, b, strict=True))
    assert apart / ink > 0.25


def test_text_taken_out_of_a_shaped_number_keeps_its_point() -> None:
    assert read(drawn("1.2")).text == "1.2"


def test_pdftotext_reads_the_point_too(tmp_path) -> None:
    file = tmp_path / "n.pdf"
    file.write_bytes(drawn("1.2"))
    assert tool("pdftotext", str(file), "-").split() == ["1.2"]


def test_decimals_are_72_per_cent_high_from_30_px_on() -> None:
    sizes = {c.get_text(): c.size for c in read(drawn("3.4")).pages[0].letters}
    assert sizes["4"] / sizes["3"] == pytest.approx(0.72)


@pytest.mark.parametrize(
    ("text", "size_pt", "shaped"),
    [
        ("1.2", 22.5, True),
        ("1.2", 22.4, False),
        ("34", 36, False),
        ("≤ 1.5", 36, False),
        ("34 or 36", 36, False),
        ("–", 36, False),
    ],
)
def test_only_large_plain_decimals_are_shaped(
    text: str, size_pt: float, shaped: bool
) -> None:
    assert is_shaped(text, size_pt) is shaped


def test_the_width_said_is_the_width_drawn() -> None:
    glyphs()
    canvas = Canvas(io.BytesIO(), pagesize=PAGE, initialFontName=BOLD)
    for text in ("1.2", "34", "10.05", "–"):
        end = draw_number(canvas, 0, 0, text, 36, TEXT)
        assert end == pytest.approx(number_width_pt(text, 36))
