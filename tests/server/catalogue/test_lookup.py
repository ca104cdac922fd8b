"""Which paths an entry may have, and which field stands behind a path."""

from __future__ import annotations

import pytest

from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET

WIRE = "01966d2c-1111-7abc-8def-0123456789ab"


def test_every_path_leads_back_to_its_field() -> None:
    for path, field in CATALOGUE.paths():
        assert CATALOGUE.field(path) is field


def test_every_path_is_legal_once_wire_and_remark_are_named() -> None:
    for path, field in CATALOGUE.paths():
        named = path.replace("wires/*", f"wires/{WIRE}").replace("s.*", "s.deep_limit")
        assert CATALOGUE.legal(named) is field
        assert CATALOGUE.is_legal(named)


@pytest.mark.parametrize(
    "path",
    [
        "",
        "patient",
        "patient.",
        "patient.no_such_field",
        "Patient.start",
        "patient.start ",
        "patient.start\n",
        "patient/start",
        "patient.people.role",
        "approach.site",
        "capture.dial_left_at",
        "wires/*/approach.site",
        "wires/w1/approach.site",
        f"wires/{WIRE.upper()}/approach.site",
        f"wires/{WIRE.replace('-7abc', '-4abc')}/approach.site",
        f"wires/{WIRE}/patient.start",
        f"wires/{WIRE}/wires",
        f"wires/{WIRE}/remarks.deep_limit",
        f"wires/{WIRE}/wires/{WIRE}/approach.site",
        f"wires/{WIRE}",
        f"wires//{WIRE}/approach.site",
        "remarks",
        "remarks.",
        "remarks.*",
        "remarks.Deep",
        "remarks.deep_limit.more",
        "derived.age_years",
    ],
)
def test_no_entry_may_have_a_path_that_is_not_listed(path: str) -> None:
    assert not CATALOGUE.is_legal(path)
    assert CATALOGUE.legal(path) is None


@pytest.mark.parametrize(
    "path", ["approach.site", "wires/*/approach.site", f"wires/{WIRE}/approach.site"]
)
def test_a_field_of_a_wire_is_found_with_its_wire_and_without(path: str) -> None:
    found = CATALOGUE.field(path)
    assert found is not None
    assert found.name == "site"


def test_a_field_of_the_case_is_not_found_under_a_wire() -> None:
    assert CATALOGUE.field(f"wires/{WIRE}/finish.outcome") is None


def test_what_only_the_desk_writes_is_listed_like_any_other_path() -> None:
    assert all(CATALOGUE.is_legal(path) for path in NEVER_FROM_A_TABLET)


def test_a_part_is_found_by_its_name_and_an_unknown_one_raises() -> None:
    assert CATALOGUE.part("checks").label == "Pacing checks"
    with pytest.raises(KeyError):
        CATALOGUE.part("elsewhere")
