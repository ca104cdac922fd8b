"""Twenty tablets at once against a real server: busy is waited for, never failed.

A writer that began with a read would be refused at once, whatever the timeout says
(cases of the SQLite group: "database is locked" at once, despite a timeout).
"""

import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.support.cast import Cast
from tests.support.replies import NAME
from tests.support.transport import OverHttp
from webapp.record import log

THREADS = 20
FOR_S = 5


@pytest.fixture
def ward(app, db, live):
    """The cast, whose tablets reach the real server."""
    return Cast(app, db, OverHttp(live.url))


def test_twenty_threads_that_post_for_seconds_meet_no_failure_and_lose_nothing(
    ward, db
):
    tablets = [ward.tablet(f"tablet {number}") for number in range(THREADS)]
    shared = tablets[0].opens()
    until = time.monotonic() + FOR_S

    def posts(tablet):
        """Post small batches, some of them twice; every answer must be 200."""
        rounds, own = 0, tablet.opens()
        while rounds < 3 or time.monotonic() < until:
            for record in (own, shared):
                tablet.sets(record, NAME, f"{tablet.name} {rounds}", seen=[])
            if rounds % 3 == 0:
                tablet.loses_reply()
            tablet.exchanges()
            rounds += 1
        return rounds

    with ThreadPoolExecutor(max_workers=THREADS) as many:
        rounds = list(many.map(posts, tablets))

    kept = db.execute("SELECT id, count(*) FROM entry GROUP BY id").fetchall()
    assert all(count == 1 for _, count in kept)
    written = {entry.header.id for tablet in tablets for entry in tablet.own}
    assert {entry for entry, _ in kept} == written
    assert log.head(db).position == len(written) == 2 * sum(rounds)
    assert all(tablet.unsent() == [] for tablet in tablets)
