"""What Advance draws from numbers alone: rings, the words of rings, the lens."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.support import node

DEPTHS = range(81)
# No length known, and wires as they come.
WIRES = (None, "60", "70", "90", "110", "125")


@pytest.mark.parametrize("wire", WIRES)
def test_ring_n_lies_ten_n_above_the_tip_at_each_depth(wire):
    told = node.call("live/rings.js", "ringsAt", [[str(cm), wire] for cm in DEPTHS])
    last = int(wire or 130) // 10
    for cm, rings in zip(DEPTHS, told, strict=True):
        assert rings == [
            {"n": n, "cm": str(cm - 10 * n)} for n in range(1, last + 1)
        ], cm


@pytest.mark.parametrize("wire", WIRES)
def test_the_ring_outside_the_hub_is_the_first_that_is_not_within(wire):
    asked = [[str(cm), wire] for cm in DEPTHS]
    told = node.call("live/rings.js", "ringOutside", asked)
    for cm, seen in zip(DEPTHS, told, strict=True):
        n = max(1, -(-cm // 10))
        if wire and 10 * n > int(wire):
            assert seen is None, cm
        else:
            expected = {"n": n, "out": str(10 * n - cm), "isCounted": n <= 4}
            assert seen == expected, cm


def test_half_a_centimetre_is_told_exactly():
    [seen] = node.call("live/rings.js", "ringOutside", [["33.7", None]])
    assert Decimal(seen["out"]) == Decimal("6.3")


def test_thirty_four_is_four_rings_six_out():
    [seen] = node.call("live/rings.js", "ringOutside", [["34", None]])
    assert (seen["n"], seen["out"]) == (4, "6")


def test_a_depth_that_is_no_number_has_no_rings():
    assert node.call("live/rings.js", "ringsAt", [["36?", None]]) == [[]]


def test_the_lens_begins_two_above_the_last_depth_and_stays_on_the_scale():
    told = node.call("live/lens.js", "lensFrom", [["34", []], ["0", []], ["98", []]])
    assert told == [32, 0, 93]


def test_before_a_reading_the_lens_begins_before_the_atrium():
    bands = [{"chamber": "ra", "low_cm": 15, "high_cm": 22}]
    assert node.call("live/lens.js", "lensFrom", [[None, bands], [None, []]]) == [
        13,
        10,
    ]


def test_a_depth_is_offered_alone_after_twenty_seconds():
    called = {"depth": "36", "calledMs": 1_000}
    asked = [[called, 20_999], [called, 21_000], [{**called, "depth": None}, 90_000]]
    module = "pages/live-advance-call.js"
    assert node.call(module, "isOffered", asked) == [False, True, False]


def test_what_is_here_without_network_is_counted_only_once_it_is_known():
    told = [
        {"ready": False, "have": 0, "want": 0},
        {"ready": False, "have": 3, "want": 9},
        {"ready": True, "have": 9, "want": 9},
    ]
    assert node.call("pages/shell-words.js", "shellWords", [[one] for one in told]) == [
        "Not ready without network yet.",
        "Not ready without network: 3 of 9 files here.",
        "Ready without network.",
    ]
