"""The catalogue is complete, sound and frozen under its version."""

from __future__ import annotations

import hashlib
import json
import re
from dataclasses import asdict
from decimal import Decimal
from pathlib import Path
from typing import get_args

import pytest
from ucumvert import PintUcumRegistry

from tests.server.catalogue.walk import fields
from webapp.catalogue import CATALOGUE
from webapp.catalogue.model import Field, Kind, Need

HERE = Path(__file__).parent
SNAKE = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
DECIMAL = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?")
ALL = list(fields())
BY_PATH = dict(ALL)
REQUIRED = dict(
    line.split(" ", 1)
    for line in (HERE / "required.txt").read_text().splitlines()
    if not line.startswith("#")
)


def content_digest() -> str:
    """Return the SHA-256 of everything declared, the version itself left out."""
    told = asdict(CATALOGUE)
    del told["version"], told["_fields"]
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()


def test_content_does_not_change_without_a_new_version() -> None:
    lines = (HERE / "catalogue.digest").read_text().splitlines()
    versions = [int(line.split()[0]) for line in lines]
    assert versions == list(range(1, CATALOGUE.version + 1))
    assert lines[-1] == f"{CATALOGUE.version} {content_digest()}", (
        "raise CATALOGUE.version and add its line to catalogue.digest"
    )


def test_every_required_field_is_there_with_its_needs() -> None:
    told = {p: " ".join(BY_PATH[p].needs) or "-" for p in REQUIRED if p in BY_PATH}
    assert told == REQUIRED


def test_no_other_field_needs_anything() -> None:
    needing = {path for path, field in ALL if field.needs}
    assert needing - REQUIRED.keys() == set()


def test_the_eight_asked_during_a_case_are_all_there() -> None:
    needs = {need for _, field in ALL for need in field.needs}
    assert needs == set(get_args(Need))


def test_every_kind_is_used_and_no_other() -> None:
    assert {field.kind for _, field in ALL} == set(get_args(Kind))


def test_parts_stand_in_the_order_of_the_case() -> None:
    on_rail = [part.name for part in CATALOGUE.parts if part.on_rail]
    seven = "patient indication consent approach advance capture finish"
    assert on_rail == seven.split()
    off_rail = [part.name for part in CATALOGUE.parts if not part.on_rail]
    assert off_rail == ["handover", "checks", "removal"]


def test_what_repeats_for_each_wire_has_a_path_under_the_wire() -> None:
    parts = {"advance", "capture", "checks", "removal"}
    kit = {"wire_came", "wire_name", "chamber", "site", "wire_kind", "introducer_fr"}
    for part in CATALOGUE.parts:
        of_a_wire = {field.name for field in part.fields() if field.per_wire}
        if part.name in parts:
            assert of_a_wire == {field.name for field in part.fields()}
        elif part.name == "approach":
            assert kit <= of_a_wire
            assert not {"wire_seen_in_vein", "first_puncture"} & of_a_wire
        else:
            assert of_a_wire <= {"receiver_reads"}


def test_names_are_unique_within_a_part() -> None:
    for part in CATALOGUE.parts:
        names = [field.name for field in part.fields()]
        assert len(names) == len(set(names)), part.name


def _names_itself_badly(field: Field) -> bool:
    children = [child.name for child in field.children]
    codes = [choice.code for choice in field.choices]
    doubled = len({*children}) < len(children) or len({*codes}) < len(codes)
    snake = all(SNAKE.fullmatch(name) for name in (field.name, *children, *codes))
    # A row keeps its parent's entry id under "of".
    return doubled or not snake or "of" in children


def test_names_and_choices_are_snake_case_and_unique() -> None:
    assert [path for path, field in ALL if _names_itself_badly(field)] == []


def _does_not_fit_its_kind(field: Field) -> bool:
    # A date's hard range is in years before today.
    is_bounded = field.hard is not None and field.kind != "date"
    has_quantity = bool(field.units or field.step or is_bounded or field.soft)
    wrong = (
        not field.label,
        bool(field.choices) is not (field.kind in ("one", "many")),
        len(field.choices) == 1,
        bool(field.children) is not (field.kind == "group"),
        has_quantity is not (field.kind == "qty"),
        field.max_length is not None and field.kind != "text",
        any(child.kind == "group" or child.row_of for child in field.children),
        any(child.per_wire for child in field.children),
    )
    return any(wrong)


def test_what_a_field_says_fits_its_kind() -> None:
    assert [path for path, field in ALL if _does_not_fit_its_kind(field)] == []


def test_only_other_takes_text_and_it_stands_last() -> None:
    for path, field in ALL:
        with_text = [c.code for c in field.choices if c.takes_text]
        assert with_text in ([], ["other"]), path
        assert not with_text or field.choices[-1].code == "other", path


def test_an_other_without_text_is_only_the_administrative_gender() -> None:
    # Source: HL7 FHIR R4, code system administrative-gender: four codes, closed.
    closed = {p for p, f in ALL if (c := f.choice("other")) and not c.takes_text}
    assert closed == {"patient.sex"}
    codes = {choice.code for choice in BY_PATH["patient.sex"].choices}
    assert codes == {"male", "female", "other", "unknown"}


@pytest.fixture(scope="module")
def ucum() -> PintUcumRegistry:
    return PintUcumRegistry()


def test_every_unit_is_valid_ucum(ucum: PintUcumRegistry) -> None:
    # Source: PyPI ucumvert 0.3.2, a parser made from the official UCUM grammar.
    units = {unit for _, field in ALL for unit in field.units}
    assert {"mA", "mV", "[Ch]", "mm[Hg]", "Cel", "10*9/L", "Ohm"} <= units
    for unit in units:
        ucum.from_ucum(unit)


@pytest.mark.parametrize("shown", ["Fr", "bpm", "mmHg", "°C", "ohm"])
def test_the_unit_check_refuses_a_shown_form(
    ucum: PintUcumRegistry, shown: str
) -> None:
    with pytest.raises(Exception, match=r".+"):
        ucum.from_ucum(shown)


def test_ranges_and_steps_are_exact_and_nested() -> None:
    for path, field in ALL:
        if field.kind != "qty":
            continue
        hard, soft = field.hard, field.soft
        figures = [f for r in (hard, soft) if r for f in (r.low, r.high)]
        assert all(map(DECIMAL.fullmatch, [field.step, *figures])), path
        assert Decimal(field.step) > 0, path
        edges = [hard.low, hard.high] if hard else []
        if soft:
            edges[1:1] = [soft.low, soft.high]
        assert edges == sorted(edges, key=Decimal), path


def test_a_row_of_a_row_names_a_group_beside_it() -> None:
    of_a_row = [(path, field) for path, field in ALL if field.row_of]
    assert len(of_a_row) >= 10
    for path, field in of_a_row:
        parent = CATALOGUE.field(field.row_of)
        assert parent is not None, path
        assert (parent.kind, parent.row_of) == ("group", ""), path
        assert parent.per_wire is field.per_wire, path
        assert field.row_of.split(".")[0] == path.split("/")[-1].split(".")[0]
