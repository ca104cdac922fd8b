"""A quantity in print keeps the decimals it was given with."""

from __future__ import annotations

import pytest

from webapp.note.figures_amount import amount_of


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ({"as": "34", "n": "34", "unit": "cm"}, ("34", "cm")),
        ({"as": "2.0", "n": "2", "unit": "mA"}, ("2.0", "mA")),
        ({"as": "2,0", "n": "2", "unit": "mA"}, ("2.0", "mA")),
        ({"as": "1,5", "n": "1.5", "unit": "mA"}, ("1.5", "mA")),
        ({"as": " 1.50 mA", "n": "1.5", "unit": "mA"}, ("1.5", "mA")),
        ({"as": "10", "n": "10", "unit": "mA"}, ("10", "mA")),
        ({"as": "100", "n": "10", "unit": "mA"}, ("10", "mA")),
        ({"as": "20-30", "low": "20", "high": "30", "unit": "/min"}, ("20–30", "/min")),
        ({"as": ">10", "cmp": ">", "n": "10", "unit": "mg/dL"}, ("> 10", "mg/dL")),
        ({"as": "-62", "n": "-62", "unit": "deg"}, ("−62", "°")),
        ({"as": "maximum", "special": "maximum", "unit": "mA"}, ("", "")),
        ({"as": "abc", "unit": "mA"}, ("", "")),
        ({"absent": "not_known"}, ("", "")),
        (None, ("", "")),
    ],
)
def test_a_number_is_printed_with_its_unit_and_nothing_else_is_a_number(
    value: object, shown: tuple[str, str]
) -> None:
    assert amount_of(value) == shown
