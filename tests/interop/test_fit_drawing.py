"""The cross-section of the kit is to scale: one French is a third of a millimetre."""

import pytest

from tests.support.node import call

PAIRS = [["6", "5"], ["5", "6"], ["14", "2"], ["6.5", "5.5"]]


@pytest.mark.parametrize(("sheath", "wire"), PAIRS)
def test_radii_are_to_each_other_as_the_sizes_are(sheath, wire):
    (scale,) = call("live/fit.js", "pxPerMm", [[[sheath, wire]]])
    outer, inner = call("live/fit.js", "radiusPx", [[sheath, scale], [wire, scale]])
    assert outer * float(wire) == pytest.approx(inner * float(sheath))


@pytest.mark.parametrize(("sheath", "wire"), PAIRS)
def test_three_french_are_as_long_as_the_millimetre_drawn(sheath, wire):
    (scale,) = call("live/fit.js", "pxPerMm", [[[sheath, wire]]])
    (radius,) = call("live/fit.js", "radiusPx", [["3", scale]])
    assert 2 * radius == pytest.approx(scale)


def test_a_size_that_is_not_said_changes_no_scale():
    found = call("live/fit.js", "pxPerMm", [[["6", None]], [["6", "5"]]])
    assert found[0] == found[1]
