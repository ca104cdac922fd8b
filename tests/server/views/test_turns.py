"""Large batches take turns, small requests do not wait, and a full queue says so."""

import threading

import pytest

from tests.support.replies import NAME, answers, everything
from tests.support.tablet import CONTENT_TYPE
from webapp.errors import Busy
from webapp.views.turns import LARGE, MOST_WAITING, Turns


def batch(tablet, entries: int) -> str:
    """Write so many entries in one record."""
    record = tablet.opens()
    for number in range(entries):
        tablet.sets(record, NAME, f"ALDER {number}", seen=[])
    return record


def test_a_large_batch_begins_when_the_one_before_is_done():
    turns, inside = Turns(), []
    first_in, let_go, second_in = (threading.Event() for _ in range(3))

    def first():
        with turns.turn(LARGE):
            inside.append("first in")
            first_in.set()
            assert let_go.wait(30)
            inside.append("first out")

    def second():
        assert first_in.wait(30)
        with turns.turn(LARGE):
            inside.append("second in")
            second_in.set()

    threads = [threading.Thread(target=work) for work in (first, second)]
    for thread in threads:
        thread.start()
    assert first_in.wait(30)
    assert not second_in.is_set()
    let_go.set()
    for thread in threads:
        thread.join(30)
    assert inside == ["first in", "first out", "second in"]


def test_a_small_request_waits_for_no_turn(app, tablet):
    record = batch(tablet, LARGE - 1)
    with app.extensions["turns"].turn(LARGE):
        reply = tablet.syncs()
    assert len(reply["answers"]) == LARGE - 1
    assert {answer["counts"] for answer in reply["answers"]} == {"counted"}
    assert record in tablet.records


def test_a_queue_takes_so_many_and_no_more():
    turns = Turns(most_waiting=0)
    with turns.turn(LARGE), pytest.raises(Busy), turns.turn(LARGE):
        pass
    with turns.turn(LARGE):
        pass


def test_a_failure_gives_the_turn_back():
    turns = Turns(most_waiting=0)
    with pytest.raises(ZeroDivisionError), turns.turn(LARGE):
        raise ZeroDivisionError
    with turns.turn(LARGE):
        pass


def test_who_finds_the_queue_full_is_told_to_come_again_and_loses_nothing(
    app, client, tablet, db
):
    app.extensions["turns"] = Turns(most_waiting=0)
    batch(tablet, LARGE)
    before = everything(db)
    with app.extensions["turns"].turn(LARGE):
        reply = client.post(
            "/sync",
            data=tablet.request(),
            content_type=CONTENT_TYPE,
            headers={"Authorization": f"Bearer {tablet.token}"},
        )
    assert (reply.status_code, reply.json["ok"]) == (503, False)
    assert int(reply.headers["Retry-After"]) > 0
    assert everything(db) == before
    assert len(answers(tablet.syncs())) == LARGE


def test_threads_are_left_to_small_requests_while_large_ones_wait():
    from webapp.serving import OPTIONS

    assert OPTIONS["threads"] > MOST_WAITING + 1


def test_notes_have_a_queue_of_their_own_and_a_full_one_asks_again_by_itself(
    app, cast, tablet
):
    record = batch(tablet, 1)
    tablet.syncs()
    cast.signer.signs_in()
    app.extensions["note_turns"] = Turns(most_waiting=0)
    with app.extensions["note_turns"].turn():
        answer = cast.signer.opens(f"/records/{record}/note.pdf")
        reply = tablet.syncs()
    assert answer.status_code == 503
    assert answer.headers["Refresh"] == answer.headers["Retry-After"]
    assert reply["answers"] == []
    assert (
        cast.signer.opens(f"/records/{record}/note.pdf").mimetype == "application/pdf"
    )
