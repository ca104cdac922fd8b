"""The depth ruler: depths as read, rings that travel with the wire."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest

from tests.server.note.pencil import sketched
from webapp.note.ruler import (
    LABEL_GAP_PT,
    WIRE_X,
    DepthMark,
    DepthRuler,
    WireLie,
    cut,
    spread,
)

HEIGHT, WIDTH = 560.0, 154.0


def lie(
    *depths: str,
    tip: str | None = None,
    final: bool = True,
    rings: bool = False,
    undrawn: int = 0,
) -> WireLie:
    marks = tuple(DepthMark(Fraction(d), d, "RV free", "10:39") for d in depths)
    tip_cm = Fraction(tip) if tip else None
    return WireLie(marks, tip_cm, final, rings, 60, undrawn)


def ruler(told: WireLie) -> DepthRuler:
    return DepthRuler(told, WIDTH, HEIGHT)


def test_deeper_is_lower() -> None:
    made = ruler(lie())
    assert made.y(0) > made.y(20) > made.y(34)


def test_each_reading_has_a_bead_at_its_depth_and_its_number_as_given() -> None:
    made = ruler(lie("12", "18", "27"))
    drawn = sketched(made)
    assert [y for _, y, _, _ in drawn.circles] == [made.y(12), made.y(18), made.y(27)]
    assert [w for w in drawn.words if w in ("12", "18", "27")] == ["12", "18", "27"]
    assert drawn.words.count("RV free 10:39") == 3


@pytest.mark.parametrize("depth", [0, 5, 10, 23, 34, 34.5, 50, 60, 80])
def test_ring_n_lies_ten_n_from_the_tip(depth: float) -> None:
    """ux.md section 4, rule 5: ring n at tip - 10 n, whatever the depth."""
    made = ruler(lie(tip=str(depth), rings=True))
    found = {round(y, 6) for x, y, w, _ in sketched(made).rects if x == WIRE_X - 6}
    for ring in range(1, int((depth + 10) // 10) + 1):
        assert round(made.y(Fraction(str(depth)) - 10 * ring), 6) in found


def test_ring_n_has_n_strokes_up_to_four() -> None:
    strokes = [r for r in sketched(ruler(lie(tip="34", rings=True))).rects
               if r[0] == WIRE_X - 6]  # fmt: skip
    assert len(strokes) == 1 + 2 + 3 + 4


@pytest.mark.parametrize(
    ("tip", "said"),
    [
        ("34", "4 rings, 6 cm out"),
        ("36", "4 rings, 4 cm out"),
        ("48.5", "5 rings, 1.5 cm out"),
        ("8", "1 ring, 2 cm out"),
    ],
)
def test_the_ring_outside_the_hub_is_said_with_its_distance(
    tip: str, said: str
) -> None:
    assert said in sketched(ruler(lie(tip=tip, rings=True))).words


def test_without_ring_marks_from_the_kit_no_ring_is_drawn_or_said() -> None:
    drawn = sketched(ruler(lie(tip="34")))
    assert not [r for r in drawn.rects if r[0] == WIRE_X - 6]
    assert not [w for w in drawn.words if "rings" in w]


def test_a_depth_that_is_not_final_is_dashed() -> None:
    assert sketched(ruler(lie("30", tip="30", final=False))).dashes
    assert not sketched(ruler(lie("30", tip="30"))).dashes


def test_nothing_read_says_so_and_draws_no_wire() -> None:
    drawn = sketched(ruler(lie()))
    assert "no depth read" in drawn.words
    assert not drawn.circles
    assert WIRE_X not in [x for x, *_ in drawn.lines]


def test_values_that_cannot_be_drawn_are_counted() -> None:
    assert "not drawn: 2" in sketched(ruler(lie("30", undrawn=2))).words


def test_the_scale_grows_with_the_deepest_reading() -> None:
    made = ruler(lie("88"))
    assert made.y(88) > 0


def test_labels_of_close_readings_stand_apart_and_inside() -> None:
    wanted = [300.0, 299.0, 299.0, 298.0, 20.0, 12.0, 8.0]
    placed = spread(wanted, 6)
    gaps = [a - b for a, b in itertools.pairwise(placed)]
    assert min(gaps) >= LABEL_GAP_PT - 1e-9
    assert min(placed) >= 6


def test_a_label_too_wide_for_the_drawing_says_that_it_goes_on() -> None:
    assert cut("outflow or pulmonary artery", 8, 40).endswith("…")
    assert cut("SVC", 8, 40) == "SVC"
