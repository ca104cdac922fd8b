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


def test_every_limit_names_a_listed_place_a_publication_or_that_there_is_none() -> None:
    open_words = ("our judgement", "no source", "none known", "equals the floor",
                  "the daily check", "paediatric dose cards", "test value")  # fmt: skip
    for row in policy.load().rows.values():
        places = re.findall(r"\b(domain|clinical) ([0-9]+)", row.source)
        assert places or row.source.startswith(open_words), row.key
        assert {f"{page}-{n}" for page, n in places} <= _pages(), row.key


def _pages() -> set[str]:
    """Return the listed places, and the pages they are parts of."""
    return LISTED | {re.sub(r"[a-z]$", "", anchor) for anchor in LISTED}


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
