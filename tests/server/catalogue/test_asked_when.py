"""When a question is asked: conditions that can be read, and that say the right."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.server.catalogue.walk import fields
from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import DERIVED
from webapp.catalogue.model import Condition, Field
from webapp.catalogue.when import holds

ASKED = [(path, f) for path, f in fields() if f.asked_when is not None]


def _parts(condition: Condition, group: str = "") -> Iterator[Condition]:
    """Yield each part that reads a field; a child of other rows gets their path."""
    if "field" in condition:
        path = str(condition["field"])
        is_child = group and path.startswith("row.")
        yield {**condition, "field": f"{group}.{path}" if is_child else path}
    where = condition.get("where")
    if isinstance(where, dict):
        yield {"field": condition["rows"]}
        yield from _parts(where, str(condition["rows"]))
    inner = [condition.get("not"), condition.get("all"), condition.get("any")]
    for told in inner:
        for part in told if isinstance(told, list) else [told]:
            if isinstance(part, dict):
                yield from _parts(part, group)


def _read_field(owner: str, part: Condition) -> Field | None:
    """Return the field a part of a condition reads; `owner` has the condition."""
    path = str(part["field"])
    group, is_child, child = path.partition("row.")
    if not is_child:
        return CATALOGUE.field(path)
    found = CATALOGUE.field(group.rstrip(".") or owner.rsplit(".", 1)[0])
    return found.child(child) if found else None


def _reads() -> Iterator[tuple[str, Field, Condition]]:
    for path, field in ASKED:
        for part in _parts(field.asked_when or {}):
            yield path, field, part


def test_every_condition_reads_fields_that_exist() -> None:
    reads = list(_reads())
    assert len(reads) > 100
    lost = [
        (path, part)
        for path, _, part in reads
        if part["field"] not in DERIVED and _read_field(path, part) is None
    ]
    assert lost == []


def test_every_answer_a_condition_waits_for_can_be_given() -> None:
    for path, _, part in _reads():
        field = _read_field(path, part)
        waited = {part["is"]} if "is" in part else set(part.get("in", []))  # type: ignore[call-overload]
        if field is None or not waited:
            continue
        given = {choice.code for choice in field.choices} or {"yes", "no"}
        assert waited <= given, path


def test_a_field_of_the_case_never_waits_for_a_field_of_some_wire() -> None:
    for path, _, part in _reads():
        field = _read_field(path, part)
        if field is not None and field.per_wire:
            assert path.startswith("wires/*/"), path


def test_no_field_waits_for_itself() -> None:
    for path, field, part in _reads():
        assert _read_field(path, part) is not field, path


def test_a_follow_up_stands_after_the_question_it_follows() -> None:
    order = [path.removeprefix("wires/*/") for path, _ in fields()]
    for path, _, part in _reads():
        told, asked = path.removeprefix("wires/*/"), str(part["field"])
        if asked.startswith("row."):
            asked = f"{told.rsplit('.', 1)[0]}.{asked}"
        asked = asked.replace(".row.", ".")
        if asked.split(".")[0] == told.split(".")[0]:
            assert order.index(asked) < order.index(told), path


def _is_asked(path: str, **answers: Any) -> bool:
    """Tell whether a field is asked; answers by path with "__" for its point."""
    field = CATALOGUE.field(path)
    assert field is not None
    assert field.asked_when is not None
    known = {name.replace("__", "."): value for name, value in answers.items()}

    def read(where: str) -> dict[str, Any]:
        values = [known[where]] if where in known else []
        return {"values": values, "ids": [], "rows": []}

    return holds(field.asked_when, read)[0]


def _years(n: int) -> dict[str, str]:
    return {"as": str(n), "n": str(n), "unit": "a"}


def _days(n: int) -> dict[str, str]:
    return {"as": str(n), "n": str(n), "unit": "d"}


@pytest.mark.parametrize(
    ("answers", "asked"),
    [
        ({}, False),
        ({"patient__sex": "female"}, True),
        ({"patient__sex": "male"}, False),
        ({"patient__sex": {"absent": "not_known"}}, False),
        ({"patient__sex": "female", "derived__age_years": _years(9)}, False),
        ({"patient__sex": "female", "derived__age_years": _years(10)}, True),
        ({"patient__sex": "female", "derived__age_years": _years(55)}, True),
        ({"patient__sex": "female", "derived__age_years": _years(56)}, False),
        ({"patient__sex": "female", "patient__age_class": "adult"}, True),
        ({"patient__sex": "female", "patient__age_class": "elderly_adult"}, False),
    ],
)
def test_pregnancy_is_asked_of_women_from_10_to_55_years(
    answers: dict[str, Any], asked: bool
) -> None:
    assert _is_asked("patient.pregnant", **answers) is asked


@pytest.mark.parametrize(
    ("answers", "asked"),
    [
        ({}, False),
        ({"derived__age_days": _days(27)}, True),
        ({"derived__age_days": _days(28)}, False),
        ({"patient__age_class": "newborn"}, True),
        ({"patient__age_class": "infant"}, False),
    ],
)
def test_gestation_is_asked_only_before_28_days(
    answers: dict[str, Any], asked: bool
) -> None:
    assert _is_asked("patient.gestation", **answers) is asked


def test_the_name_is_not_asked_of_someone_nobody_knows() -> None:
    assert _is_asked("patient.family_name")
    assert not _is_asked("patient.family_name", patient__identity_known="no")
    assert _is_asked("patient.why_not_known", patient__identity_known="no")


def test_age_by_look_is_asked_until_a_better_age_is_known() -> None:
    unknown = {"absent": "not_known"}
    assert _is_asked("patient.age_class", patient__birth_date=unknown)
    assert not _is_asked("patient.age_class", patient__estimated_age=_years(60))


def test_the_sedation_record_is_asked_only_if_a_sedative_was_given() -> None:
    for name in ("depth", "watcher", "start", "observation", "recovery"):
        path = f"approach.sedation_{name}"
        assert not _is_asked(path)
        assert not _is_asked(path, approach__sedative_given="no")
        assert _is_asked(path, approach__sedative_given="yes")


def test_dose_and_contrast_are_asked_only_with_fluoroscopy() -> None:
    for name in ("fluoroscopy_time", "fluoroscopy_dose", "contrast"):
        path = f"advance.{name}"
        assert not _is_asked(path, advance__guided_by=["intracardiac_ecg"])
        assert _is_asked(path, advance__guided_by=["pacing", "fluoroscopy"])


def test_the_emergency_exception_asks_for_its_five_facts() -> None:
    facts = "threat who_sought sought_at known_refusal second_clinician"
    for name in facts.split():
        path = f"consent.{name}"
        assert not _is_asked(path, consent__basis="patient")
        assert _is_asked(path, consent__basis="emergency_exception")


def test_a_probe_cover_is_asked_only_with_ultrasound() -> None:
    path = "approach.barrier_probe_cover"
    assert not _is_asked(path, approach__guidance=["landmarks"])
    assert _is_asked(path, approach__guidance=["landmarks", "marked_ultrasound"])


def _asked_with_row(path: str, row: dict[str, Any]) -> bool:
    field = CATALOGUE.field(path)
    assert field is not None
    assert field.asked_when is not None

    def read(_: str) -> dict[str, Any]:
        return {"values": [], "ids": [], "rows": [row] if row else []}

    return holds(field.asked_when, read)[0]


def test_capture_under_the_pads_is_asked_only_once_the_pads_paced() -> None:
    path = "indication.skin_pacing_reading"
    assert not _asked_with_row(path, {})
    assert not _asked_with_row(path, {"id": "a", "state": "ready_not_pacing"})
    assert _asked_with_row(path, {"id": "a", "state": "paced"})
    assert _asked_with_row(path, {"id": "a", "output": {"as": "70"}})


def test_the_pulse_coming_back_is_asked_only_in_an_arrest() -> None:
    assert not _asked_with_row("indication.pulse_back", {})
    assert _asked_with_row("indication.pulse_back", {"id": "a"})


def test_nothing_of_the_procedure_is_asked_when_it_was_not_started() -> None:
    for path in (
        "approach.first_puncture",
        "approach.guidewires_opened",
        "advance.final_depth",
        "capture.dial_left_at",
        "capture.electrical_capture",
        "finish.dressing_on",
        "finish.balloon_at_end",
    ):
        assert _is_asked(path)
        assert not _is_asked(path, finish__outcome="not_started")


def test_removal_asks_nothing_until_something_happens_to_the_wire() -> None:
    assert not _is_asked("removal.ending")
    assert _is_asked("removal.ending", removal__event="leaves_with_patient")
    assert not _is_asked("removal.tip_complete", removal__event="leaves_with_patient")
    for event in ("removal_here", "found_out", "elsewhere"):
        assert _is_asked("removal.tip_complete", removal__event=event)
    assert _is_asked("removal.balloon_down", removal__event="removal_here")
