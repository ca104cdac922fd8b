"""How a wire lies comes from what was read and from the kit, never from a guess."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from tests.support.notes import quantity
from tests.support.records import Recording
from webapp.note.lie import wire_lie
from webapp.note.ruler import WireLie


def lie(answers: dict[str, Any], *depths: Any) -> WireLie:
    record = Recording()
    wire = record.wire(answers)
    for depth in depths:
        row = {"depth": depth, "result": "rv_free"}
        record.adds(f"wires/{wire}/advance.depth_reading", row)
    return wire_lie(record.case, record.case.wires[0], "2026-05-14")


@pytest.mark.parametrize(
    ("site", "scale_cm"),
    [
        ("internal_jugular_right", 60),
        ("subclavian_infraclavicular_left", 60),
        ("femoral_right", 75),
        ("arm_left", 90),
        (None, 60),
    ],
)
def test_the_scale_is_as_long_as_the_way_from_that_site(
    site: str | None, scale_cm: int
) -> None:
    """ux.md section 7: 60 cm neck, 75 femoral, 90 arm; a plain 60 without a site."""
    assert lie({"approach.site": site} if site else {}).scale_cm == scale_cm


def test_rings_are_drawn_only_when_the_kit_says_every_10_cm() -> None:
    assert lie({"approach.wire_ring_code": "every_10_cm"}).has_rings
    assert not lie({}).has_rings
    assert not lie({"approach.wire_ring_code": {"absent": "not_known"}}).has_rings


def test_a_final_depth_is_the_tip_and_no_final_depth_is_the_last_read() -> None:
    final = lie({"advance.final_depth": quantity("34", "cm")}, quantity("30", "cm"))
    assert (final.tip_cm, final.is_final) == (Fraction(34), True)
    last = lie({}, quantity("30", "cm"), quantity("28.5", "cm"))
    assert (last.tip_cm, last.is_final) == (Fraction(57, 2), False)


@pytest.mark.parametrize(
    "depth",
    [
        quantity("340", "cm"),
        {"as": "30-34", "low": "30", "high": "34", "unit": "cm"},
        {"as": ">30", "cmp": ">", "n": "30", "unit": "cm"},
        {"as": "abc", "unit": "cm"},
        {"as": "34", "n": "34", "unit": ""},
        {"absent": "not_known"},
    ],
    ids=["impossible", "range", "bound", "unreadable", "no-unit", "absent"],
)
def test_what_is_no_point_in_cm_is_counted_and_not_drawn(depth: Any) -> None:
    found = lie({}, quantity("30", "cm"), depth)
    assert len(found.marks) == 1
    assert found.undrawn == 1
    # Where the wire was before is not drawn as where it is.
    assert found.tip_cm is None
    assert lie({}, depth, quantity("30", "cm")).tip_cm == 30


@pytest.mark.parametrize(("came", "tip_cm"), [(True, 36), (False, None)])
def test_a_wire_that_came_still_lies_when_the_new_one_was_given_up(
    came: bool, tip_cm: int | None
) -> None:
    record = Recording()
    first = record.wire({"approach.wire_came": "came_with_it"} if came else {})
    row = {"depth": quantity("36", "cm"), "result": "rv_free"}
    record.adds(f"wires/{first}/advance.depth_reading", row)
    record.wire({})
    record.says("finish.outcome", "given_up_wire_out")
    found = wire_lie(record.case, record.case.wires[0], "2026-05-14")
    assert found.tip_cm == tip_cm
