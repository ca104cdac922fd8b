"""Both languages fold a record to the same JSON, in any order of arrival."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.support.node import call
from tests.support.streams import AT, LOGS, filled, opened, read_stream
from webapp.record.fold import fold

FILES = sorted(LOGS.glob("*.json"))
LOG_IDS = [f"01890000-0000-7000-8000-00000000000{n}" for n in "abc"] + ["desk"]
BATCH = 10
BATCHES = 60


def in_browser(streams: list[list[dict[str, Any]]]) -> list[dict[str, Any]]:
    """Fold each stream with the tablet's own module; one node process for all."""
    return call("log/fold.js", "fold", [[stream] for stream in streams])


def as_text(folded: dict[str, Any]) -> str:
    """Write a fold so that True is not 1 and no order of keys matters."""
    return json.dumps(folded, sort_keys=True, ensure_ascii=False)


def told(folded: dict[str, Any], expected: dict[str, Any]) -> dict[str, Any]:
    """Return of a fold what a hand-written stream says of it."""
    times = {i: meta["time_ms"] for i, meta in folded["entries"].items()}
    parts = {**folded, "times": {i: times[i] for i in expected.get("times", {})}}
    return {name: parts[name] for name in expected}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_python_folds_a_stream_to_what_is_written_beside_it(file: Path):
    stream = read_stream(file)
    assert told(fold(opened(stream["entries"])), stream["fold"]) == stream["fold"]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_tablet_folds_a_stream_to_what_is_written_beside_it(file: Path):
    stream = read_stream(file)
    [folded] = in_browser([stream["entries"]])
    assert told(folded, stream["fold"]) == stream["fold"]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_who_and_when_of_each_entry_are_the_same_in_both_languages(file: Path):
    entries = read_stream(file)["entries"]
    [folded] = in_browser([entries])
    assert as_text(folded) == as_text(fold(opened(entries)))


VALUES = st.sampled_from(
    [
        "yes",
        "no",
        {"as": "1,5", "n": "1.5", "unit": "mA"},
        {"as": "1.50", "n": "1.5", "unit": "mA"},
        {"as": "1.5", "n": "1.5", "unit": ""},
        {"as": "abc", "unit": "mA"},
        {"as": "ab", "unit": "mA"},
        {"unit": "mA"},
        {"as": None, "unit": "mA"},
        {"as": "second day", "certainty": "unreadable"},
        {"as": "third day", "certainty": "unreadable"},
        {"absent": "not_known"},
        {"absent": "not_done", "because": "no time"},
        {"as": "3.2.54", "date": "1954-02-03"},
        ["latex", {"other": "Søn <b>"}],
        [{"other": "Søn <b>"}, "latex"],
        [],
        {},
        None,
        True,
        1,
        False,
        0,
        {"__proto__": {"as": "x"}, "constructor": [1, True]},
        {"note": "\u2028\U0001f6d1é\u00e9\x00", "n": 9007199254740991},
    ]
)
PATHS = st.sampled_from(["patient.weight", "wires", "__proto__", "remarks.a b\u00e9"])
UTCS = st.sampled_from(
    [
        "2031-11-24T10:00:00.000Z",
        "2031-11-24T10:00:00.001Z",
        "2031-11-24T10:00:00Z",
        "2031-11-24T09:00:00.000Z",
        "1969-12-31T23:59:59.999Z",
        "2031-02-30T10:00:00.000Z",
        "2031-11-24T24:00:00.000Z",
        "2031-11-24T10:00:00.000+01:00",
        "2031-11-24",
        "24 Nov 2031 10:41",
        "",
    ]
)
SKEWS = st.sampled_from([0, None, 1, -3_600_000, 3_600_000, True, 10**15, 2**53 - 1])


@st.composite
def streams(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Make up to 14 entries of up to four logs, which name one another freely."""
    count = draw(st.integers(1, 14))
    ids = [f"01890000-0000-7000-8000-{n:012d}" for n in range(count)]
    names = st.sampled_from([*ids, "01890000-0000-7000-8000-999999999999", "", "x"])
    seqs = dict.fromkeys(LOG_IDS, 0)
    entries = []
    for entry_id in ids:
        log = draw(st.sampled_from(LOG_IDS))
        seqs[log] += draw(st.integers(1, 2))
        op = draw(st.sampled_from(["set", "set", "add", "strike"]))
        strike = st.fixed_dictionaries(
            {"strikes": names}, optional={"reason": st.sampled_from(["why", None])}
        )
        odd = st.sampled_from([None, [], "x", {"strikes": {"toString": 1}}])
        value = st.one_of(strike, strike, odd) if op == "strike" else VALUES
        short = {
            "path": draw(PATHS),
            "op": op,
            "value": draw(value),
            "seen": draw(st.lists(names, max_size=3)) if op == "set" else [],
            "at": {**AT, "utc": draw(UTCS), "skew_ms": draw(SKEWS)},
        }
        entries.append(filled({"id": entry_id, "log": log, "seq": seqs[log], **short}))
    return entries


def shuffled(entries: list[dict[str, Any]], seed: int) -> list[dict[str, Any]]:
    """Return the entries in another order, some of them twice or three times."""
    chance = random.Random(seed)  # noqa: S311 - an order, no secret
    again = chance.choices(entries, k=chance.randrange(len(entries) + 1))
    mixed = entries + again
    chance.shuffle(mixed)
    return mixed


def test_any_order_and_any_repetition_fold_alike_in_both_languages():
    folded_streams = 0

    @settings(
        max_examples=BATCHES,
        deadline=None,
        database=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(
        st.lists(streams(), min_size=BATCH, max_size=BATCH), st.integers(0, 2**32 - 1)
    )
    def check(batch: list[list[dict[str, Any]]], seed: int) -> None:
        nonlocal folded_streams
        mixed = [shuffled(stream, seed + n) for n, stream in enumerate(batch)]
        folds = [as_text(fold(opened(stream))) for stream in batch]
        assert [as_text(fold(opened(stream))) for stream in mixed] == folds
        assert [as_text(f) for f in in_browser(batch + mixed)] == folds + folds
        folded_streams += len(batch)

    check()
    assert folded_streams >= 500
