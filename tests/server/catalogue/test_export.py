"""What the tablet gets: all that is declared, and none of the codes."""

from __future__ import annotations

import json
import re

from tests.server.catalogue.walk import fields
from webapp.catalogue import CATALOGUE
from webapp.catalogue.export import export

TOLD = export(CATALOGUE, {"a.key": "Text"}, {"threshold_margin_floor": "2.0"})


def _children(told: dict) -> list[dict]:
    return [told, *told["children"]]


def _all_told() -> list[dict]:
    of_parts = [f for p in TOLD["parts"] for s in p["sections"] for f in s["fields"]]
    return [
        child
        for field in (*of_parts, *TOLD["top"], TOLD["remark"])
        for child in _children(field)
    ]


def test_it_survives_json_unchanged() -> None:
    assert json.loads(json.dumps(TOLD)) == TOLD


def test_it_carries_version_words_and_policy() -> None:
    assert TOLD["version"] == CATALOGUE.version
    assert TOLD["say"] == {"a.key": "Text"}
    assert TOLD["policy"] == {"threshold_margin_floor": "2.0"}


def test_every_field_and_child_is_in_it_in_the_same_order() -> None:
    told = [(field["name"], field["kind"], field["label"]) for field in _all_told()]
    assert told == [(f.name, f.kind, f.label) for _, f in fields()]


def test_it_says_of_a_field_what_the_catalogue_says() -> None:
    weight = next(f for f in _all_told() if f["name"] == "weight")
    assert weight["units"] == ["kg"]
    assert weight["hard"] == {"low": "0.2", "high": "700"}
    assert weight["soft_ages"] == "adult"
    assert weight["needs"] == ["R"]
    assert weight["asked_when"] is None


def test_no_code_of_a_code_system_is_in_it() -> None:
    text = json.dumps(TOLD)
    codes = {c.code for _, f in fields() for ch in f.choices for c in ch.codes}
    assert len(codes) > 30
    assert [code for code in codes if f'"{code}"' in text] == []
    assert not re.search(r"ICD|FY20|\bI4[0-9]\.[0-9]", text)


def test_it_is_small_enough_to_be_read_at_a_bedside() -> None:
    # A bound of our own: one file, precached once, well under half a megabyte.
    assert len(json.dumps(TOLD).encode()) < 400_000
