"""One entry folded onto a record gives what folding all of them gives."""

from __future__ import annotations

import json
from typing import Any

from tests.interop.test_fold import STAGES, as_text, made_up
from tests.support.node import call
from tests.support.streams import AT, filled, opened
from webapp.record.fold import fold

FIRST = 0


def one_by_one(streams: list[list[dict[str, Any]]], first: int) -> list[dict[str, Any]]:
    return call("./folding.mjs", "oneByOne", [[stream, first] for stream in streams])


def test_drawn_records_told_one_by_one_fold_to_the_same():
    streams = [made.entries for made in made_up(FIRST)]
    for first in (0, 6):
        for told, stream in zip(one_by_one(streams, first), streams, strict=True):
            assert as_text(told["fold"]) == as_text(fold(opened(stream)))


def test_drawn_records_told_in_any_order_fold_to_the_same():
    streams = [made.shuffled() for made in made_up(FIRST)]
    for told, stream in zip(one_by_one(streams, 0), streams, strict=True):
        assert as_text(told["fold"]) == as_text(fold(opened(stream)))


def test_written_records_told_one_by_one_fold_to_the_same():
    streams = [stage.entries for stage in STAGES]
    for told, stream in zip(one_by_one(streams, 1), streams, strict=True):
        assert as_text(told["fold"]) == as_text(fold(opened(stream)))


def tapped(count: int) -> list[dict[str, Any]]:
    """Return a log as one tablet writes it: answers, rows, a strike now and then."""
    told = []
    for n in range(count):
        id_ = f"01890000-0000-7000-8000-{n:012d}"
        said: dict[str, Any] = {"path": "patient.weight", "op": "set", "value": n}
        if n % 3 == 1:
            said = {"path": "wires", "op": "add", "value": {"name": str(n)}}
        if n % 9 == 5:
            row = f"01890000-0000-7000-8000-{n - 1:012d}"
            said = {"path": "wires", "op": "strike", "value": {"strikes": row}}
        place = {"id": id_, "log": "01890000-0000-7000-8000-00000000000a", "seq": n + 1}
        at = {**AT, "utc": f"2031-11-24T10:{n:02d}:00.000Z"}
        told.append(filled({**place, **said, "at": at}))
    return told


def test_what_one_tablet_writes_is_never_folded_again_whole():
    [told] = one_by_one([tapped(40)], 0)
    assert told["again"] == 0
    assert as_text(told["fold"]) == as_text(fold(opened(tapped(40))))


def test_only_the_path_of_an_entry_becomes_another_object():
    stream = tapped(11)
    assert json.dumps(stream[-1]).count("wires") == 1
    assert call("./folding.mjs", "redrawn", [[stream]]) == [["wires"]]


def test_a_snapshot_and_what_came_after_it_fold_to_the_same():
    streams = [made.entries for made in made_up(FIRST)]
    for first in (0, 6, 40):
        cases = [[stream, first] for stream in streams]
        found = call("./folding.mjs", "throughPicture", cases)
        folded = [one for one in found if one is not None]
        # Drawn entries often come against the order of their log, or are erased.
        assert len(folded) > {0: 100, 6: 200, 40: 499}[first]
        for told, stream in zip(found, streams, strict=True):
            if told is not None:
                assert as_text(told) == as_text(fold(opened(stream)))


def test_a_snapshot_says_what_many_entries_say_alike_once():
    [told] = call("./folding.mjs", "throughPicture", [[tapped(40), 30]])
    assert as_text(told) == as_text(fold(opened(tapped(40))))
