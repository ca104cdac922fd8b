"""The shipped typeface: glyphs that cannot be taken for one another.

Checked against the files' own tables with fontTools, not against our build script.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.pointInsidePen import PointInsidePen
from fontTools.pens.recordingPen import RecordingPen
from fontTools.ttLib import TTFont

from webapp.paths import static_folder

FONTS = static_folder() / "fonts"
PAPER = ("wiremark-sans-regular.ttf", "wiremark-sans-bold.ttf")
SCREEN = ("wiremark-sans-regular.woff2", "wiremark-sans-bold.woff2")
DIGITS = "0123456789"


@pytest.fixture(params=[*PAPER, *SCREEN])
def font(request: pytest.FixtureRequest) -> TTFont:
    return TTFont(FONTS / request.param)


def glyph_of(font: TTFont, letter: str) -> str:
    return font.getBestCmap()[ord(letter)]


def bounds(font: TTFont, letter: str) -> tuple[float, float, float, float]:
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[glyph_of(font, letter)].draw(pen)
    return pen.bounds


def is_inked(font: TTFont, letter: str, x: float, y: float) -> bool:
    glyphs = font.getGlyphSet()
    pen = PointInsidePen(glyphs, (x, y))
    glyphs[glyph_of(font, letter)].draw(pen)
    return bool(pen.getResult())


def centre(font: TTFont, letter: str) -> tuple[float, float]:
    left, bottom, right, top = bounds(font, letter)
    return (left + right) / 2, (bottom + top) / 2


def width_at(font: TTFont, letter: str, share_of_height: float) -> float:
    left, bottom, right, top = bounds(font, letter)
    y = bottom + (top - bottom) * share_of_height
    inked = [
        x for x in range(int(left), int(right) + 1) if is_inked(font, letter, x, y)
    ]
    return max(inked) - min(inked)


def test_the_plain_zero_is_struck_through_and_the_letter_o_is_not(font: TTFont) -> None:
    assert is_inked(font, "0", *centre(font, "0"))
    assert not is_inked(font, "O", *centre(font, "O"))


def test_one_has_a_flag_el_has_a_foot_and_capital_i_has_neither(font: TTFont) -> None:
    foot, middle, head = 0.07, 0.5, 0.85
    assert width_at(font, "1", head) > 1.3 * width_at(font, "1", middle)
    assert width_at(font, "l", foot) > 1.15 * width_at(font, "l", middle)
    assert width_at(font, "I", foot) == width_at(font, "I", head)
    assert bounds(font, "l")[3] > bounds(font, "I")[3]


def test_digits_have_one_width_and_one_height(font: TTFont) -> None:
    widths = {font["hmtx"][glyph_of(font, d)][0] for d in DIGITS}
    assert len(widths) == 1
    # Round digits overshoot flat ones by a few units, as in all type.
    tops = [bounds(font, d)[3] for d in DIGITS]
    bottoms = [bounds(font, d)[1] for d in DIGITS]
    assert max(tops) - min(tops) <= 0.03 * font["head"].unitsPerEm
    assert max(bottoms) - min(bottoms) <= 0.03 * font["head"].unitsPerEm


def test_no_two_digits_share_an_outline(font: TTFont) -> None:
    glyphs = font.getGlyphSet()
    drawn = set()
    for digit in DIGITS:
        pen = RecordingPen()
        glyphs[glyph_of(font, digit)].draw(pen)
        drawn.add(repr(pen.value))
    assert len(drawn) == len(DIGITS)


def test_rv_contact_at_66_px_fits_360_px(font: TTFont) -> None:
    units = sum(font["hmtx"][glyph_of(font, c)][0] for c in "RV contact")
    assert units / font["head"].unitsPerEm * 66 <= 360


@pytest.mark.parametrize(
    "sample",
    [
        "Łukasz Żółć, Øyvind Ærø, Şükrü Ğ, Ăn Țară, Nguyễn Thị Hường",
        "Αθήνα Ωμέγα ΐΰ ς",
        "Жданов Ёлка Ґанок Їжак Ђорђе",
        "≥ ≤ ≈ × − – — … · • ° µ Ω ½ → ← ↑ ↓ № € £ ‘’ “” «»",
        "\u00a0\u2009\u202f\u2011",
    ],
    ids=["latin", "greek", "cyrillic", "signs", "spaces"],
)
def test_every_letter_of_the_sample_has_a_glyph(font: TTFont, sample: str) -> None:
    missing = {c for c in sample if ord(c) not in font.getBestCmap()}
    assert missing == set()


@pytest.mark.parametrize("name", PAPER)
def test_paper_files_have_truetype_outlines_and_may_be_embedded(name: str) -> None:
    font = TTFont(FONTS / name)
    assert "glyf" in font
    # OpenType specification, OS/2 fsType: 0 is "installable embedding".
    assert font["OS/2"].fsType == 0


def test_screen_and_paper_say_the_same_letters_with_the_same_widths() -> None:
    for paper, screen in zip(PAPER, SCREEN, strict=True):
        one, other = TTFont(FONTS / paper), TTFont(FONTS / screen)
        assert set(one.getBestCmap()) == set(other.getBestCmap())
        for code, glyph in one.getBestCmap().items():
            width = other["hmtx"][other.getBestCmap()[code]][0]
            assert one["hmtx"][glyph][0] == width


def test_the_name_is_ours_since_the_sources_name_is_reserved(font: TTFont) -> None:
    for number in (1, 3, 4, 6):
        assert "wiremark" in font["name"].getDebugName(number).lower()
        assert "fira" not in font["name"].getDebugName(number).lower()


def test_the_licence_lies_beside_the_files_and_all_are_small() -> None:
    assert "SIL OPEN FONT LICENSE" in (FONTS / "OFL.txt").read_text()
    shipped = [FONTS / name for name in (*PAPER, *SCREEN)]
    assert sum(path.stat().st_size for path in shipped) <= 400 * 1024


def test_the_stylesheet_names_files_that_exist() -> None:
    css = (FONTS.parent / "css" / "fonts.css").read_text()
    for name in SCREEN:
        assert f"../fonts/{name}" in css
        assert Path(FONTS / name).is_file()
