"""`/sync` over a real server: killed, started again, and used by many at once."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.support.cast import Cast
from tests.support.replies import NAME, answers
from tests.support.transport import OverHttp, Unreachable
from webapp.record import log


@pytest.fixture
def ward(app, db, live):
    """The cast, whose tablets reach the real server."""
    return Cast(app, db, OverHttp(live.url))


def test_what_was_kept_is_there_after_the_server_was_killed(ward, live, db):
    tablet = ward.tablet()
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    first = tablet.exchanges()
    assert answers(first) == [("kept", "counted", None)]
    live.kill()
    tablet.sets(record, NAME, "ANOTHER")
    with pytest.raises(Unreachable):
        tablet.syncs()
    live.start()
    reply = tablet.syncs()
    assert (answers(reply), reply["head_known"]) == ([("kept", "counted", None)], True)
    assert len(log.entries_of(db, record)) == 2


def test_many_tablets_at_once_lose_nothing_and_fail_nowhere(ward, db):
    tablets = [ward.tablet(f"tablet {number}") for number in range(8)]
    shared = tablets[0].opens()

    def works(tablet):
        own = tablet.opens()
        for number in range(40):
            tablet.sets(own, NAME, f"ALDER {number}", seen=[])
            tablet.sets(shared, NAME, f"{tablet.name} {number}", seen=[])
            if number % 8 == 0:
                tablet.exchanges()
        tablet.loses_reply()
        return tablet.syncs()

    with ThreadPoolExecutor(max_workers=8) as many:
        replies = list(many.map(works, tablets))
    assert all(reply["went_back"] is False for reply in replies)
    assert all(tablet.unsent() == [] for tablet in tablets)
    assert log.head(db).position == 8 * 80
    assert len(log.entries_of(db, shared)) == 8 * 40
    for tablet in tablets:
        tablet.syncs()
    folds = [tablet.fold(shared) for tablet in tablets]
    assert all(fold == folds[0] for fold in folds)


def test_too_large_a_request_is_answered_by_the_real_server_too(ward):
    tablet = ward.tablet()
    reply = tablet.posts(b"\0" * (5 * 1024 * 1024))
    assert reply.status == 413
    assert reply.json["ok"] is False
