"""Twenty schedules with real processes: SIGKILL, a real browser, older copies put back.

What the screen called kept is in the server's own database exactly once, with its own
bytes, author and moment, and all who have the case open read the same in it.
"""

from collections import Counter
from contextlib import closing

import pytest

from tests.fault.ready import make_ready
from tests.fault.ward import Ward
from webapp.record import log, lost, not_kept
from webapp.record.entry import DESK_LOG
from webapp.record.open_record import open_record

SCHEDULES = 20


@pytest.fixture(scope="session")
def ready(playwright_here, tmp_path_factory):
    """A ward with two enrolled tablets, at rest."""
    return make_ready(playwright_here, tmp_path_factory.mktemp("ready"))


@pytest.fixture
def ward(ready, tmp_path, request):
    """A ward whose schedule has run and come to rest."""
    seed = request.param
    made = Ward(ready, tmp_path, seed)
    try:
        made.runs()
        made.comes_to_rest()
        yield made
    except Exception as error:
        pytest.fail(f"{error}\n{made.told(seed)}")
    finally:
        made.ends()


@pytest.mark.parametrize(
    "ward", range(SCHEDULES), indirect=True, ids=[f"seed-{n}" for n in range(SCHEDULES)]
)
def test_what_the_screen_called_kept_is_in_the_record_once(ward):
    db = ward.database()
    with closing(db.conn):
        entries = log.entries_of(db, ward.record)
        found = open_record(db, ward.record)
        missing = {one.entry for one in lost.missing(db)}
        waiting = not_kept.shown(db)
    rows, nurse = ward.rows(), {e.header.id: e for e in ward.nurse.own}
    there = {e.header.id: e for e in entries}

    counted = Counter(e.header.id for e in entries)
    assert set(counted.values()) <= {1}
    assert set(rows) | set(nurse) | (ward.kept & ward.on_server) <= set(there)
    assert {i for i, e in there.items() if e.header.log != DESK_LOG} <= (
        set(rows) | set(nurse) | ward.kept
    )
    # The digest is that of header and body together.
    assert rows == {entry: there[entry].digest for entry in rows}
    for entry, sealed in nurse.items():
        assert there[entry].body == sealed.body
    assert waiting == []

    here, shown = found.case.fold, ward.bedside.fold()
    only_there = set(shown["order"]) - set(there)
    assert only_there <= missing
    assert [i for i in shown["order"] if i in there] == here["order"]
    assert {i: shown["entries"][i] for i in here["order"]} == here["entries"]
    if not only_there:
        assert shown == here
        assert ward.nurse.fold(ward.record) == here
    assert "Traceback" not in ward.server.log()
