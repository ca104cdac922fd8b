"""What a hand holds belongs to one wire: the first it brings, and no other."""

from tests.support.node import call


def held(*asked):
    """What each asking finds: a number that grows with each thing made."""
    [found] = call("./held.mjs", "held", [[list(asked)]])
    return found


def test_the_first_wire_takes_over_what_was_held_without_one():
    assert held(["r", None], ["r", "w1"], ["r", "w1"]) == [1, 1, 1]


def test_a_page_that_is_without_its_wire_once_more_goes_on():
    assert held(["r", "w1"], ["r", None], ["r", "w1"]) == [1, 1, 1]


def test_a_second_wire_holds_its_own_though_the_page_was_without_one_between():
    assert held(["r", "w1"], ["r", None], ["r", "w2"], ["r", "w1"]) == [1, 1, 2, 1]


def test_another_case_holds_its_own():
    assert held(["r", None], ["s", None], ["r", "w1"], ["s", "w1"]) == [1, 2, 1, 2]
