"""Every place named as a source stands in fixtures/sources.md."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from webapp.clinical import policy

ROOT = Path(__file__).resolve().parents[3]
LISTED = set(
    re.findall(
        r'<a id="([a-z0-9-]+)">',
        (ROOT / "fixtures" / "sources.md").read_text(encoding="utf-8"),
    )
)
VECTORS = (
    "threshold",
    "next_output",
    "output",
    "margin",
    "shown",
    "readings",
    "remarks",
    "sensing",
    "edges",
    "drugs",
    "skin_pacing",
    "place",
    "complications",
    "around",
    "labs",
)


def test_every_anchor_named_in_code_is_listed() -> None:
    named = {
        anchor
        for file in (ROOT / "webapp").rglob("*.py")
        for anchor in re.findall(r"sources\.md#([a-z0-9-]+)", file.read_text("utf-8"))
        + re.findall(r"[,;] #([a-z]+-[0-9]+[a-z]?)", file.read_text("utf-8"))
    }
    assert {"clinical-7", "clinical-8", "domain-4b"} <= named
    assert named <= LISTED


def test_the_source_of_no_limit_is_the_bare_name_of_a_page_of_ours() -> None:
    named = {
        row.key: re.findall(r"\b(?:domain|clinical|coding|ux) ?[§0-9]", row.source)
        for row in policy.load().rows.values()
    }
    assert {key: found for key, found in named.items() if found} == {}


def test_every_limit_names_a_listed_place_where_more_is_told() -> None:
    places = {r.key: r.place.replace(" ", "-") for r in policy.load().rows.values()}
    assert {key for key, place in places.items() if place not in _places()} == set()


def test_a_limit_without_source_says_so_and_one_derived_says_from_what() -> None:
    begins = {
        "common practice": ("no source",),
        "derived": ("derived from ", "our judgement", "equals "),
    }
    wrong = {
        row.key: row.source
        for row in policy.load().rows.values()
        if not row.source.startswith(begins.get(row.word, ("",)))
        or (row.word in ("found", "found-2") and row.source.startswith("no "))
    }
    assert wrong == {}


def _places() -> set[str]:
    """Return the listed places, and their parts: all of domain 1 stands in one row."""
    return LISTED | {f"{one}{letter}" for one in LISTED for letter in "abcde"}


@pytest.mark.parametrize("name", VECTORS)
def test_every_worked_example_names_a_known_kind_of_place(name: str) -> None:
    text = (ROOT / "fixtures" / "vectors" / f"{name}.json").read_text(encoding="utf-8")
    known = re.compile(
        r"clinical §|domain \d|ux §|fields|design|published case|PACE|First Aid"
        r"|CTSNet|UK teaching|cjdbarlow|derived|nothing entered is lost|look of"
    )
    wrong = [
        c["name"] for c in json.loads(text)["cases"] if not known.search(c["source"])
    ]
    assert wrong == []
