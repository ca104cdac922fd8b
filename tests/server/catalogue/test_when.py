"""The condition language against rows written by hand."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.declared import vectors
from webapp.catalogue.when import compiled, holds, paths_read

READ = vectors("when")
ANSWERS: dict[str, Any] = READ["answers"]
NOTHING: dict[str, Any] = {"values": [], "ids": [], "rows": []}


def read(path: str) -> dict[str, Any]:
    """Answer a path as the vector file says."""
    return {**NOTHING, **ANSWERS.get(path, {})}


def name_of(row: Any) -> str:
    """Return a short name for a row, for the test's id."""
    return json.dumps(row.get("when", row))[:80]


@pytest.mark.parametrize("row", READ["rows"], ids=name_of)
def test_a_condition_holds_with_the_evidence_written_beside_it(
    row: dict[str, Any],
) -> None:
    assert holds(row["when"], read) == (row["holds"], row["ids"])


@pytest.mark.parametrize("condition", READ["malformed"], ids=name_of)
def test_what_is_not_of_the_language_is_refused(condition: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"not a|counts is"):
        holds(condition, read)


@pytest.mark.parametrize("row", READ["rows"], ids=name_of)
def test_a_compiled_condition_tells_what_holds_tells(row: dict[str, Any]) -> None:
    assert compiled(row["when"])(read) is row["holds"]


@pytest.mark.parametrize("condition", READ["malformed"], ids=name_of)
def test_what_is_not_of_the_language_is_refused_compiled(
    condition: dict[str, Any],
) -> None:
    with pytest.raises(ValueError, match=r"not a|counts is"):
        compiled(condition)(read)


@pytest.mark.parametrize("row", READ["paths"], ids=name_of)
def test_every_path_a_condition_reads_is_told(row: dict[str, Any]) -> None:
    assert list(paths_read(row["when"])) == row["reads"]


conditions = st.recursive(
    st.sampled_from([r["when"] for r in READ["rows"]]),
    lambda inner: (
        st.builds(lambda parts: {"all": parts}, st.lists(inner, max_size=3))
        | st.builds(lambda parts: {"any": parts}, st.lists(inner, max_size=3))
        | st.builds(lambda part: {"not": part}, inner)
    ),
    max_leaves=6,
)


@given(conditions)
def test_not_turns_the_answer_and_keeps_the_evidence(
    condition: dict[str, Any],
) -> None:
    held, ids = holds(condition, read)
    assert holds({"not": condition}, read) == (not held, ids)


@given(st.lists(conditions, max_size=4))
def test_any_is_all_turned_inside_out(parts: list[dict[str, Any]]) -> None:
    # Source: De Morgan's law, for the answer and for what it rests on.
    turned = {"not": {"all": [{"not": part} for part in parts]}}
    assert holds({"any": parts}, read) == holds(turned, read)


@given(conditions)
def test_evidence_was_read_and_is_named_once(condition: dict[str, Any]) -> None:
    _, ids = holds(condition, read)
    known = {i for answer in ANSWERS.values() for i in answer.get("ids", [])}
    assert set(ids) <= known
    assert len(ids) == len(set(ids))


@given(conditions)
def test_any_compiled_condition_tells_what_holds_tells(
    condition: dict[str, Any],
) -> None:
    assert compiled(condition)(read) is holds(condition, read)[0]
