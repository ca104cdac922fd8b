"""What goes back to a tablet."""

import pytest

from tests.support.cast import PASSWORD
from tests.support.replies import NAME
from webapp.people import access_log
from webapp.record.framing import Opened
from webapp.record.open_record import open_record
from webapp.record.pull import pull


def test_two_tablets_edit_one_field_unseen_and_both_show_two_answers(
    tablet, other_tablet, db
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.sets(record, NAME, "ALDERMEER")
    other_tablet.syncs()
    tablet.syncs()
    for one in (tablet, other_tablet):
        assert sorted(one.shows(record, NAME)) == ["ALDERMEER", "ALDERMERE"]
    assert open_record(db, record).case.answer(NAME).state == "two_answers"
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.syncs()
    for one in (tablet, other_tablet):
        assert one.shows(record, NAME) == ["ALDERMERE"]
    assert tablet.fold(record) == other_tablet.fold(record)


def test_a_pulled_entry_has_the_very_bytes_that_were_sealed(tablet, other_tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "山田 👨‍👩‍👧 <b>")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.sets(record, "patient.given_name", "TEST")
    other_tablet.syncs()
    sent = tablet.own[0]
    given = other_tablet.pulled[record][sent.header.id]
    assert given.header == sent.header.encode()
    assert given.body.encode() == sent.body


def test_a_tablet_learns_how_its_own_entries_were_ruled(tablet):
    record = tablet.opens()
    wrong = tablet.sets(record, NAME, 7)
    tablet.syncs()
    given = tablet.pulled[record][wrong]
    assert given.counts == "set_aside"


def test_a_pull_goes_on_where_the_last_one_ended(tablet, other_tablet):
    record = tablet.opens()
    for _ in range(700):
        tablet.sets(record, NAME, "ALDERMERE", seen=[])
    tablet.exchanges()
    tablet.exchanges()
    other_tablet.opens(record)
    other_tablet.sets(record, "patient.given_name", "TEST")
    first = other_tablet.exchanges()["pull"][0]
    assert (len(first["entries"]), first["more"]) == (500, True)
    second = other_tablet.exchanges()["pull"][0]
    assert (len(second["entries"]), second["more"]) == (201, False)
    third = other_tablet.exchanges()["pull"][0]
    assert (third["entries"], third["more"]) == ([], False)
    assert third["upto"] == second["upto"]


def test_one_reply_shares_its_room_among_the_open_records(tablet):
    one, two = tablet.opens(), tablet.opens()
    for _ in range(300):
        tablet.sets(one, NAME, "ALDERMERE", seen=[])
        tablet.sets(two, NAME, "ANOTHER", seen=[])
    tablet.exchanges()
    shares = tablet.exchanges()["pull"]
    given = {s["record"]: (len(s["entries"]), s["more"]) for s in shares}
    assert sum(count for count, _ in given.values()) <= 500
    tablet.syncs()
    assert len(tablet.pulled[one]) == len(tablet.pulled[two]) == 300


def test_pull_all_gives_everything_again(tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    assert tablet.posts(tablet.request()).json["pull"][0]["entries"] == []
    again = tablet.posts(tablet.request(pull_all=True)).json["pull"][0]
    assert len(again["entries"]) == 1


def test_a_sealed_entry_is_pulled_without_a_body(tablet):
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "ALDERMERE")
    tablet.posts(tablet.request(wraps=[]))
    tablet.exchanges([])
    assert tablet.pulled[record][entry].body is None


def test_a_record_of_other_tablets_is_closed_without_a_grant(tablet, other_tablet):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.opens(record)
    (share,) = other_tablet.exchanges()["pull"]
    assert share == {
        "record": record,
        "entries": [],
        "upto": 0,
        "more": False,
        "closed": True,
    }


def test_a_record_that_is_not_there_looks_the_same_as_a_closed_one(tablet):
    tablet.opens()
    (share,) = tablet.exchanges()["pull"]
    assert (share["entries"], share["closed"]) == ([], True)


def test_a_person_who_signed_in_opens_the_record_of_another_tablet(
    cast, tablet, other_tablet, db
):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    signer = cast.signer.person
    other_tablet.opens(record)
    other_tablet.signs_in(signer.login, PASSWORD)
    other_tablet.syncs()
    assert other_tablet.shows(record, NAME) == ["ALDERMERE"]
    (line,) = [
        x for x in access_log.of_record(db, record) if x.tablet == other_tablet.id
    ]
    assert (line.what, line.person) == ("record:pull", signer.id)


@pytest.mark.parametrize("grant", ["", "nobody", "\xe6"])
def test_no_other_grant_opens_a_record(tablet, other_tablet, grant):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    other_tablet.opens(record)
    other_tablet.grant = grant
    assert other_tablet.exchanges()["pull"][0]["entries"] == []


def test_a_record_read_from_its_start_is_noted_once(tablet, db):
    record = tablet.opens()
    tablet.sets(record, NAME, "ALDERMERE")
    tablet.syncs()
    tablet.sets(record, NAME, "ANOTHER")
    tablet.syncs()
    whats = [line.what for line in access_log.of_record(db, record)]
    assert whats == ["record:pull"]


def test_the_reply_names_the_people_the_policy_and_the_servers_key(cast, tablet, app):
    cast.signer  # noqa: B018 - named, so that she exists
    reply = tablet.syncs()
    assert [p["name"] for p in reply["people"]] == ["Test-Ines ALDERMERE"]
    assert reply["policy"]["version"]
    assert reply["server_key"] == app.extensions["keyring"].current().public()
    assert reply["server_time"].endswith("Z")


def test_nothing_is_pulled_beyond_the_head_that_the_reply_tells(tablet, db):
    record = tablet.opens()
    for n in range(4):
        tablet.sets(record, NAME, f"ALDER {n}")
    tablet.syncs()
    (share,) = pull(db, [Opened(record, 1, ())], lambda _: True, head=3)
    assert [e.position for e in share.entries] == [2, 3]
    assert (share.upto, share.more) == (3, False)
