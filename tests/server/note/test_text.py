"""Text stands as it was typed, or is named; never silently another letter."""

from __future__ import annotations

import pytest
from reportlab.platypus import Paragraph

from webapp.note.styles import BODY
from webapp.note.text import is_printable, markup, one_line, printable


@pytest.mark.parametrize(
    "typed",
    [
        "<b>Ó'Brien & Søn</b>",
        "0.1 <A <0.9",
        "x<y>z </para> <br>",
        "A&P AT&T; &copy 5 &lt;ok&gt; &#0; &amp;",
        "Łukasz Żółć, Жданов, Ωμέγα, Nguyễn Thị Hường",
        "≥ 2.0 × at 37.5 °C, µV, Ω, 10⁹/L",
    ],
)
def test_a_text_the_face_can_draw_is_left_alone(typed: str) -> None:
    assert printable(typed) == typed
    assert Paragraph(markup(typed), BODY).getPlainText() == typed


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("山田 x", "[not printable here: U+5C71 U+7530] x"),
        ("محمد", "[not printable here: U+0645 U+062D U+0645 U+062F]"),
        ("🚑", "[not printable here: U+1F691]"),
        ("a\u202eb", "a[not printable here: U+202E]b"),
        ("a\u200bb", "a[not printable here: U+200B]b"),
        ("a\x07b", "a[not printable here: U+0007]b"),
        ("soft\u00adhyphen", "soft[not printable here: U+00AD]hyphen"),
    ],
    ids=["han", "arabic", "emoji", "override", "zero-width", "control", "soft-hyphen"],
)
def test_a_letter_without_ink_is_named_by_its_code_point(
    typed: str, shown: str
) -> None:
    assert printable(typed) == shown
    assert not is_printable(typed)


def test_a_long_text_in_another_script_names_eight_and_counts_the_rest() -> None:
    shown = printable("山" * 300)
    assert shown.count("U+5C71") == 8
    assert "and 292 more" in shown


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r", "\u2028", "\x0b", "\x85"])
def test_every_kind_of_line_end_becomes_a_line(line_end: str) -> None:
    assert printable(f"a{line_end}b") == "a\nb"
    assert markup(f"a{line_end}b") == "a<br/>b"
    assert one_line(f"a{line_end}b") == "a b"


def test_composed_and_decomposed_letters_print_alike() -> None:
    assert printable("e\u0301") == "é"


def test_runs_of_spaces_survive_the_paragraph() -> None:
    assert Paragraph(markup("a   b"), BODY).getPlainText().replace("\xa0", " ") == (
        "a   b"
    )
