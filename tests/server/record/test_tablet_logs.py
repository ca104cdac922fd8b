"""What tablets said they hold, and have not delivered."""

from tests.support.replies import NAME
from webapp.record.signing import undelivered


def test_what_a_tablet_holds_back_is_known_to_the_signer(tablet, db):
    record = tablet.opens()
    for number in range(3):
        tablet.sets(record, NAME, f"ALDER {number}")
    tablet.exchanges(tablet.own[:1])
    (one,) = undelivered(db, record)
    assert (one.name, one.missing) == ("tablet 2", 2)
    tablet.syncs()
    (one,) = undelivered(db, record)
    assert one.missing == 0


def test_a_tablet_that_only_has_a_record_open_is_known_too(tablet, other_tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.syncs()
    assert [(u.name, u.missing) for u in undelivered(db, record)] == [
        ("tablet 2", 0),
        ("tablet 3", 0),
    ]


def test_nobody_announces_for_another_tablets_log(tablet, other_tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tip = {"log": tablet.writer.log, "seq": 900}
    told = [{"record": record, "since": 0, "tips": [tip]}]
    logs = [{"log": tablet.writer.log, "tip": 900}]
    assert other_tablet.posts(other_tablet.request(open=told, logs=logs)).status == 200
    assert [u.missing for u in undelivered(db, record)] == [0, 0]
