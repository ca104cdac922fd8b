"""A table when it can be read as one; else row after row, nothing left out."""

from __future__ import annotations

from reportlab.platypus import Table

from webapp.note.blocks import Line, Rows, Said
from webapp.note.faces import REGULAR, width_pt
from webapp.note.line_setting import fits
from webapp.note.row_setting import column_widths, set_rows

WIDTH = 523.0


def rows(*cells: str, columns: int = 0) -> Rows:
    names = tuple(f"Column {n}" for n in range(columns or len(cells)))
    return Rows("Readings", names, (tuple(Said(c) for c in cells),))


def test_no_word_of_a_table_is_wider_than_its_column() -> None:
    told = rows("Connected, pacing mode ready", "80 /min", "yes", "10:41 JB · 12")
    for width, cell, name in zip(
        column_widths(told, WIDTH), told.rows[0], told.columns, strict=True
    ):
        for word in [*cell.words.split(), *name.split()]:
            assert width_pt(word, REGULAR, 9) <= width


def test_columns_never_take_more_than_the_page() -> None:
    told = rows(*["some words of an answer that go on and on"] * 8)
    assert sum(column_widths(told, WIDTH)) <= WIDTH + 0.01


def test_many_columns_or_a_long_text_are_told_row_after_row() -> None:
    assert column_widths(rows(*["x"] * 10), WIDTH) is None
    assert column_widths(rows("x" * 91, "y"), WIDTH) is None
    told = set_rows(rows(*["x"] * 10), WIDTH)
    assert not any(isinstance(f, Table) and len(f._cellvalues) == 2 for f in told)


def test_a_short_line_shares_its_row_and_a_long_or_double_one_does_not() -> None:
    half = 253.0
    assert fits(Line("Hands", (Said("yes", "10:35 JB · 94"),)), half)
    assert not fits(Line("Hands", (Said("yes " * 40, "10:35 JB"),)), half)
    assert not fits(Line("Hands", (Said("yes"), Said("no"))), half)
    assert not fits(Line("Hands", (Said("340 cm", mark="impossible"),)), half)
    assert not fits(Line("Hands", (Said("a\nb"),)), half)
    assert not fits(Line("Hands", (Said("yes"),), wide=True), half)
    assert not fits(Line("W" * 60, (Said("yes"),)), half)
