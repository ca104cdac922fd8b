"""What is missing is only what is asked; later parts count once begun."""

from __future__ import annotations

from tests.support.records import Recording
from webapp.clinical.policy import load
from webapp.note.gaps import Gaps, gaps
from webapp.note.sources import sources_of


def found(record: Recording) -> Gaps:
    return gaps(sources_of(record.case, load()))


def labels(told: tuple[tuple[str, tuple[str, ...]], ...], part: str) -> tuple[str, ...]:
    return dict(told).get(part, ())


def test_a_question_whose_condition_does_not_hold_is_not_missing() -> None:
    record = Recording()
    record.says("finish.outcome", "not_started")
    assert "First puncture" not in labels(found(record).missing, "Approach")
    assert "First puncture" in labels(found(Recording()).missing, "Approach")


def test_a_stated_absence_is_not_missing() -> None:
    record = Recording()
    record.says("patient.weight", {"absent": "not_known"})
    assert "Weight" not in labels(found(record).missing, "Patient")


def test_removal_is_not_missing_before_it_began() -> None:
    assert labels(found(Recording()).missing, "Removal") == ()
    record = Recording()
    record.wire({"removal.event": "removal_here"})
    assert labels(found(record).missing, "Removal")


def test_no_label_is_in_both_lists() -> None:
    told = found(Recording())
    for part, missing in told.missing:
        assert not set(missing) & set(labels(told.also_missing, part))


def test_the_count_is_that_of_the_list() -> None:
    told = found(Recording())
    assert told.count == sum(len(names) for _, names in told.missing)


def test_two_wires_are_named_in_what_each_lacks() -> None:
    record = Recording()
    record.wire({})
    record.wire({"approach.site": "femoral_right"})
    missing = labels(found(record).missing, "Approach")
    assert "Site and side, Wire 1" in missing
    assert "Site and side, Wire 2" not in missing
