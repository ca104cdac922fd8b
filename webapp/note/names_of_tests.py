"""What a test is called: "Threshold test 2 at insertion", or at which pacing check.

Drawing, page 1 and the tables take the name from here, so that one test has one name.
"""

from __future__ import annotations

from collections import Counter

from webapp.clinical.rows import rows_of
from webapp.note.casewords import row_time
from webapp.note.sources import Sources
from webapp.record.case import Row
from webapp.say import say

_READINGS = {"threshold_test": "output_reading", "sensing_test": "sensing_reading"}


def row_names(sources: Sources, path: str) -> dict[str, str]:
    """Return entry id of each row of a group -> its name, struck ones too.

    A number tells apart those that would have the same name. A group that is no test:
    its label and place.
    """
    rows = sources.case.rows(path, struck=True)
    field = sources.case.catalogue.field(path)
    label = field.label if field else path.rpartition(".")[2]
    if path.rpartition(".")[2] not in _READINGS:
        return {row.id: f"{label} {n}" for n, row in enumerate(rows, start=1)}
    last = _last_readings(sources, path)
    times = {r.id: row_time(last.get(r.id, r), sources.day) for r in rows}
    bare = Counter(name_of_test(path, label, times[row.id]) for row in rows)
    names = {}
    for n, row in enumerate(rows, start=1):
        name = name_of_test(path, label, times[row.id])
        numbered = name_of_test(path, f"{label} {n}", times[row.id])
        names[row.id] = numbered if bare[name] > 1 else name
    return names


def name_of_test(path: str, label: str, time: str) -> str:
    """Return a test's label with its place in time. `time`: its last reading's."""
    if path.rpartition("/")[2].startswith("checks."):
        return say("note.test_at_check", test=label, time=time)
    return say("note.test_at_insertion", test=label)


def _last_readings(sources: Sources, path: str) -> dict[str, Row]:
    """Return each test's last reading, by the test's id."""
    head, _, name = path.rpartition(".")
    readings = f"{head}.{_READINGS[name]}"
    rows = {row.id: row for row in sources.case.rows(readings)}
    last: dict[str, Row] = {}
    for told in rows_of(sources.case.fold, readings):
        of = told.value.get("of")
        if isinstance(of, str):
            last[of] = rows[told.id]
    return last
