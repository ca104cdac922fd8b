"""What the outcome of a procedure leaves to be asked of a wire that came before it."""

from __future__ import annotations

import pytest

from tests.support.records import Recording
from webapp.record.questions import open_questions

ASKED = ("advance.final_depth", "capture.dial_left_at")


def asked_of(record: Recording, wire: str) -> set[str]:
    """Return which of these fields are open for a wire."""
    found = {question.path for question in open_questions(record.case)}
    return {name for name in ASKED if f"wires/{wire}/{name}" in found}


def two_wires(outcome: str, **more: str) -> tuple[Recording, str, str]:
    """Return a record with a wire that came with the patient, and one begun here."""
    record = Recording()
    came = record.wire({"approach.wire_came": "came_with_it", **more})
    new = record.wire({"approach.wire_came": "new_here"})
    record.says("finish.outcome", outcome)
    return record, came, new


@pytest.mark.parametrize("outcome", ["given_up_wire_out", "not_started"])
def test_an_outcome_without_a_wire_leaves_the_wire_that_came(outcome: str) -> None:
    record, came, new = two_wires(outcome)
    assert (asked_of(record, came), asked_of(record, new)) == (set(ASKED), set())


def test_a_wire_that_came_and_went_is_asked_nothing_more() -> None:
    record, came, _ = two_wires("given_up_wire_out", **{"removal.event": "found_out"})
    assert asked_of(record, came) == set()


def test_the_outcome_is_about_the_only_wire_even_if_it_came() -> None:
    record = Recording()
    came = record.wire({"approach.wire_came": "came_with_it"})
    record.says("finish.outcome", "given_up_wire_out")
    assert asked_of(record, came) == set()
