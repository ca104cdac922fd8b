"""Both languages fold a record to the same JSON, in any order of arrival."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from tests.support.any_streams import RECORDS, ROWS, Made
from tests.support.node import call
from tests.support.streams import (
    JOINED,
    STREAMS,
    filled,
    opened,
    read_joined,
    read_stages,
)
from webapp.record.fold import FOLD_VERSION, fold
from webapp.record.joined import joined, joins
from webapp.record.order_doubts import doubtful_rows

STAGES = [stage for file in STREAMS for stage in read_stages(file)]
BATCH = 500
FIRST_SEEDS = [n * BATCH for n in range(4)]


@cache
def made_up(first: int) -> list[Made]:
    """Return a batch of made-up records, the same for the same first seed."""
    return [Made(seed) for seed in range(first, first + BATCH)]


def in_browser(streams: list[list[dict[str, Any]]]) -> list[dict[str, Any]]:
    """Fold each stream with the tablet's own module; one node process for all."""
    return call("log/fold.js", "fold", [[stream] for stream in streams])


def as_text(folded: Any) -> str:
    """Write a fold so that True is not 1 and no order of keys matters."""
    return json.dumps(folded, sort_keys=True, ensure_ascii=False)


def told(folded: dict[str, Any], expected: dict[str, Any]) -> dict[str, Any]:
    """Return of a fold what a hand-written stream says of it."""
    times = {i: meta["time_ms"] for i, meta in folded["entries"].items()}
    doubts = {
        path: doubtful_rows(folded, path) for path in expected.get("doubtful", ())
    }
    known = {i: times[i] for i in expected.get("times", {})}
    parts = {**folded, "times": known, "doubtful": doubts}
    return {name: parts[name] for name in expected}


@pytest.mark.parametrize("stage", STAGES, ids=lambda stage: stage.name)
def test_python_folds_a_stream_to_what_is_written_beside_it(stage):
    assert told(fold(opened(stage.entries)), stage.fold) == stage.fold


def test_the_tablet_folds_every_stream_to_what_is_written_beside_it():
    folds = in_browser([stage.entries for stage in STAGES])
    found = {s.name: told(f, s.fold) for s, f in zip(STAGES, folds, strict=True)}
    assert found == {stage.name: stage.fold for stage in STAGES}


def test_who_and_when_of_each_entry_are_the_same_in_both_languages():
    folds = in_browser([stage.entries for stage in STAGES])
    here = [as_text(fold(opened(stage.entries))) for stage in STAGES]
    assert [as_text(f) for f in folds] == here


def test_the_tablet_finds_the_same_order_in_doubt_as_is_written():
    asked = [(s, path) for s in STAGES for path in s.fold.get("doubtful", ())]
    folds = [fold(opened(stage.entries)) for stage, _ in asked]
    calls = [[f, path] for f, (_, path) in zip(folds, asked, strict=True)]
    found = call("log/order-doubts.js", "doubtfulRows", calls)
    assert found == [stage.fold["doubtful"][path] for stage, path in asked]
    assert any(found)


@pytest.mark.parametrize("file", JOINED, ids=lambda file: file.stem)
def test_python_joins_the_records_that_are_one_case(file: Path):
    told_of = read_joined(file)
    records = {r: joins(fold(opened(own))) for r, own in told_of.records.items()}
    assert joined(records) == told_of.joined
    backwards = {r: values[::-1] for r, values in reversed(records.items())}
    assert joined(backwards) == told_of.joined


def test_the_tablet_joins_the_records_that_are_one_case():
    files = [read_joined(file) for file in JOINED]
    every = [own for file in files for own in file.records.values()]
    stand = iter(call("log/joined.js", "joins", [[f] for f in in_browser(every)]))
    records = [{r: next(stand) for r in file.records} for file in files]
    found = call("log/joined.js", "joined", [[record] for record in records])
    assert found == [file.joined for file in files]


def test_both_languages_give_their_fold_the_same_version():
    text = (Path(__file__).parents[2] / "static/js/log/fold.js").read_text("utf-8")
    assert f"export const FOLD_VERSION = {FOLD_VERSION};" in text


@pytest.mark.parametrize("first", FIRST_SEEDS)
def test_any_order_and_any_repetition_fold_alike_in_both_languages(first: int):
    """Each of 500 records as written, and mixed in another way in each language."""
    made = made_up(first)
    as_written = [as_text(fold(opened(one.entries))) for one in made]
    here = [as_text(fold(opened(one.shuffled()))) for one in made]
    assert differing(first, here, as_written) == []
    asked = [one.entries for one in made] + [one.shuffled() for one in made]
    there = [as_text(folded) for folded in in_browser(asked)]
    assert differing(first, there[:BATCH], as_written) == []
    assert differing(first, there[BATCH:], as_written) == []


def differing(
    first: int, some: list[str], others: list[str]
) -> list[tuple[int, str, str]]:
    """Return the first record folded in two ways, with its seed."""
    pairs = enumerate(zip(some, others, strict=True), start=first)
    return [(seed, one, other) for seed, (one, other) in pairs if one != other][:1]


def test_the_made_up_records_hold_what_records_hold():
    made = [one for first in FIRST_SEEDS for one in made_up(first)]
    assert len(made) >= 2000
    folds = [fold(opened(one.entries)) for one in made]
    heads = [h for f in folds for own in f["values"].values() for h in own]
    rows = [r for f in folds for own in f["rows"].values() for r in own]
    strikes = [sum(e["body"]["op"] == "strike" for e in one.entries) for one in made]
    aside = [one for one in made if set(one.set_aside) & named_in(one.entries)]
    doubts = [any(doubtful_rows(f, path) for path in ROWS) for f in folds]
    assert sum(len(own) > 1 for f in folds for own in f["values"].values()) > 500
    assert sum(len(head["entries"]) > 1 for head in heads) > 100
    assert sum(row["struck"] is not None for row in rows) > 500
    assert sum(row["struck"] is None for row in rows) > 500
    assert sum(count > 3 for count in strikes) > 500
    assert len(aside) > 500
    assert sum(doubts) > 100
    erased = [
        e["body"]["value"]
        for one in made
        for e in one.entries
        if e["log"] == "desk" and e["body"]["path"] == "erasures"
    ]
    assert sum(bool(v.get("seen")) for v in erased if isinstance(v, dict)) > 100
    assert sum(bool(v.get("strikes")) for v in erased if isinstance(v, dict)) > 100
    assert sum(one.entries != one.shuffled() for one in made) > 1500
    assert all(any(path in f["rows"] for f in folds) for path in ROWS)


def named_in(entries: list[dict[str, Any]]) -> set[str]:
    seen = {i for e in entries for i in e["body"]["seen"]}
    strikes = [e["body"]["value"] for e in entries if e["body"]["op"] == "strike"]
    told_of = [v.get("strikes") for v in strikes if isinstance(v, dict)]
    return seen | {name for name in told_of if isinstance(name, str)}


def test_any_record_has_the_same_order_in_doubt_in_both_languages():
    folds = [fold(opened(one.entries)) for one in made_up(0)]
    calls = [[folded, path] for folded in folds for path in ROWS]
    here = [doubtful_rows(folded, path) for folded, path in calls]
    assert call("log/order-doubts.js", "doubtfulRows", calls) == here


def test_any_records_are_joined_alike_in_both_languages_and_in_any_order():
    made = [*made_up(0), *made_up(BATCH)]
    folds = [fold(opened(one.entries)) for one in made]
    told_of = [
        dict(zip(RECORDS, map(joins, folds[n : n + len(RECORDS)]), strict=True))
        for n in range(len(folds) - len(RECORDS))
    ]
    here = [joined(records) for records in told_of]
    assert call("log/joined.js", "joined", [[records] for records in told_of]) == here
    backwards = [dict(reversed(records.items())) for records in told_of]
    assert [joined(records) for records in backwards] == here
    assert sum(len(cases) < len(RECORDS) for cases in here) > 300


LARGEST = 5000


def all_strikes_in_a_chain() -> list[dict[str, Any]]:
    """Return a row, a strike of it, a strike of that, and so on."""
    names = [f"e{n}" for n in range(LARGEST)]
    row = {"id": names[0], "log": "a", "seq": 1, "path": "wires", "op": "add"}
    strikes = [
        {
            **row,
            "id": names[n],
            "seq": n + 1,
            "op": "strike",
            "value": {"strikes": other},
        }
        for n, other in enumerate(names[:-1], start=1)
    ]
    return [filled(entry) for entry in ({**row, "value": {}}, *strikes)]


def all_strikes_on_one_row() -> list[dict[str, Any]]:
    chain = all_strikes_in_a_chain()
    for entry in chain[1:]:
        entry["body"]["value"] = {"strikes": "e0"}
    return chain


def all_different_answers() -> list[dict[str, Any]]:
    return [
        filled(
            {"id": f"e{n}", "log": "a", "seq": n + 1, "value": {"as": "x", "n": str(n)}}
        )
        for n in range(LARGEST)
    ]


@pytest.mark.parametrize(
    "make", [all_strikes_in_a_chain, all_strikes_on_one_row, all_different_answers]
)
def test_a_record_of_five_thousand_entries_that_all_meet_folds_alike(make):
    """Were each compared with each other, this alone would take minutes."""
    entries = make()
    folded = fold(opened(entries[::-1]))
    assert as_text(in_browser([entries])[0]) == as_text(folded)
    assert len(folded["order"]) == LARGEST
