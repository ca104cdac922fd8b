"""A server that went back is told what it lost; nothing of it goes missing here."""

import json
import shutil

from tests.support.syncing import (
    EVENT,
    NAME,
    WEIGHT,
    BedsideTablet,
    entries,
    given,
    said,
    share,
)
from tests.support.tablet import Tablet
from tests.support.transport import OverHttp
from webapp.db import connect
from webapp.people import tablets
from webapp.record.entry import decode_header, uuid7

KG_80 = {"as": "80", "n": "80", "unit": "kg"}
WENT_BACK = {"went_back": True, "head_known": False}


def tablet_named(shared_browser, standing, standing_db, name):
    return BedsideTablet(shared_browser, standing, standing_db, False, name)


def hears_once(tablet, change):
    """Change the next reply only, and sync until nothing more is to be said."""
    waiting = [change]
    tablet.hears(lambda told: waiting.pop()(told) if waiting else None)
    tablet.starts()
    tablet.syncs_now()


def held_in(head, record):
    [one] = [told for told in head["open"] if told["record"] == record]
    return one.get("holds")


def test_the_request_after_a_server_went_back_names_what_others_wrote(
    shared_browser, standing, standing_db
):
    tablet = tablet_named(shared_browser, standing, standing_db, "holds")
    record, other = tablet.new_record(), tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.appends(other, NAME, "BRANDNESS")
    log = uuid7()
    theirs = [
        given(record, 1, said(EVENT, {"what": "theirs"}, "add"), log, 2),
        given(record, 2, said(WEIGHT, KG_80), "desk", 7),
        given(record, 3, None, log, 1, counts="set_aside", because="Not known."),
    ]
    hears_once(tablet, lambda told: told["pull"].append(share(record, *theirs)))
    heads = tablet.heads()
    waiting = [lambda told: told.update(WENT_BACK)]
    tablet.hears_the_server()
    tablet.hears(lambda told: waiting.pop()(told) if waiting else None)
    tablet.syncs_now()
    tablet.syncs_now()
    assert len(heads) == 3
    assert [held_in(head, record) for head in (heads[0], heads[2])] == [None, None]
    assert sorted(held_in(heads[1], record)) == sorted(t["header"] for t in theirs)
    assert held_in(heads[1], other) is None
    tablet.page.close()


LARGE = """([record, count]) => {
  const author = { person: null, name: "Test-Mira FJORDHOLM", role: "assistant" };
  const value = "x".repeat(60000);
  const kept = Array.from({ length: count }, () =>
    store.append(record, { path: "indication.why_now", value, author }));
  return Promise.all(kept).then(() => null);
}"""


def test_what_is_told_of_others_fits_a_request_and_is_told_whole(
    shared_browser, standing, standing_db
):
    tablet = tablet_named(shared_browser, standing, standing_db, "holds-many")
    record = tablet.new_record()
    tablet.page.evaluate(LARGE, [record, 62])
    log = uuid7()
    theirs = [
        given(record, n, None, log, n, counts="set_aside") for n in range(1, 2101)
    ]
    heads, sizes = tablet.heads(), []
    tablet.page.on(
        "request", lambda asked: sizes.append(len(asked.post_data_buffer or b""))
    )

    def gives_all(told):
        told["pull"] = [share(record, *theirs)]
        told["logs"] = [{**one, "held": 0} for one in told["logs"]]
        told.update(WENT_BACK)

    hears_once(tablet, gives_all)
    told = [held_in(head, record) or [] for head in heads]
    assert [len(holds) for holds in told[:3]] == [0, 2000, 100]
    assert told[1] + told[2] == [t["header"] for t in theirs]
    assert heads[1]["entries"]
    assert max(sizes) <= 4 * 1024 * 1024
    assert all(len(json.dumps(holds)) < 1024 * 1024 for holds in told)
    tablet.page.close()


def test_an_answer_that_was_lost_tells_it_again(shared_browser, standing, standing_db):
    tablet = tablet_named(shared_browser, standing, standing_db, "holds-lost")
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    theirs = given(record, 1, said(WEIGHT, KG_80))

    def goes_back(told):
        told["pull"].append(share(record, theirs))
        told.update(WENT_BACK)

    changes, heads = [goes_back], tablet.heads()

    def answers_once(route):
        answer = route.fetch()
        if not changes:
            return route.abort("connectionreset")
        told = answer.json()
        changes.pop()(told)
        return route.fulfill(response=answer, json=told)

    tablet.page.route("**/sync", answers_once)
    tablet.starts()
    tablet.syncs_now()
    tablet.hears_the_server()
    tablet.syncs_now()
    told = [held_in(head, record) for head in heads]
    assert told == [None, [theirs["header"]], [theirs["header"]]]
    tablet.page.close()


def test_the_strip_tells_what_the_server_lost_until_it_is_there_again(
    shared_browser, standing, standing_db
):
    tablet = tablet_named(shared_browser, standing, standing_db, "holds-strip")
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    theirs = given(record, 1, said(WEIGHT, KG_80))
    lost = {"lost": 2}

    def goes_back(told):
        told["pull"].append(share(record, theirs))
        told.update(WENT_BACK)
        told["logs"] = [{**log, "held": 0} for log in told["logs"]]

    changes = [goes_back]

    def change(told):
        told.update(lost)
        if changes:
            changes.pop()(told)
            tablet.page.evaluate("sync.stop()")

    tablet.hears(change)
    tablet.starts()
    tablet.syncs_now()
    notes = {note["key"]: note["args"] for note in tablet.status()["notes"]}
    assert notes["strip.went_back"] == {}
    assert notes["strip.lost"] == {"count": 2}
    tablet.starts()
    tablet.syncs_now()
    assert "strip.went_back" not in tablet.notes()
    assert "strip.lost" in tablet.notes()
    assert tablet.shows(record, WEIGHT) == [KG_80]
    lost["lost"] = 0
    tablet.syncs_now()
    assert "strip.lost" not in tablet.notes()
    tablet.page.close()


def test_another_entry_of_the_desk_in_a_place_known_here_does_no_harm(
    shared_browser, standing, standing_db
):
    name = "desk-place"
    tablet = tablet_named(shared_browser, standing, standing_db, name)
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    before = given(record, 1, said(EVENT, {"what": "before"}, "add"), seq=4)
    after = given(record, 2, said(EVENT, {"what": "after"}, "add"), seq=4)
    hears_once(tablet, lambda told: told["pull"].append(share(record, before)))
    tablet.hears_the_server()
    waiting = [lambda told: told["pull"].append(share(record, after))]
    tablet.hears(lambda told: waiting.pop()(told) if waiting else None)
    tablet.syncs_now()
    shown = sorted(row["value"]["what"] for row in tablet.fold(record)["rows"][EVENT])
    assert shown == ["after", "before"]
    folded = tablet.fold(record)
    tablet.page.close()
    again = BedsideTablet(shared_browser, standing, starts=False, name=name)
    assert again.fold(record) == folded
    assert again.status()["damaged"] == 0
    again.page.close()


def test_what_others_wrote_stays_readable_here_when_the_server_lost_it(
    browser, live, db, site, tmp_path
):
    tablet = BedsideTablet(browser, live, db)
    _, code = tablets.add(db, "tablet 2")
    other = Tablet.enrols(OverHttp(live.url), code)
    record = tablet.new_record()
    tablet.appends(record, NAME, "before")
    tablet.wait_until_sent()
    live.stop()
    db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    shutil.copy(site.database, tmp_path / "backup.db")
    live.start()
    other.sets(record, WEIGHT, KG_80)
    other.syncs()
    tablet.appends(record, NAME, "after")
    # A round that began before the server was up again may be the one that is waited for.
    tablet.wait_until_sent()
    tablet.syncs_now()
    assert tablet.shows(record, WEIGHT) == [KG_80]
    live.stop()
    db.conn.close()
    for left in site.home.glob("wiremark.db*"):
        left.unlink()
    shutil.copy(tmp_path / "backup.db", site.database)
    live.start()
    heads = tablet.heads()
    # The first may be a round that began while nobody listened.
    tablet.syncs_now()
    tablet.syncs_now()
    tablet.wait_until_sent()
    restored = connect(site.database)
    assert len(entries(restored, record)) == 2
    told = [header for head in heads for header in held_in(head, record) or []]
    ids = [decode_header(header.encode()).id for header in told]
    assert ids == [entry.header.id for entry in other.own]
    tablet.syncs_now()
    assert tablet.shows(record, WEIGHT) == [KG_80]
    assert tablet.shows(record, NAME) == ["after"]
    assert tablet.status()["lost"] == 1
    assert "strip.lost_one" in tablet.notes()
    # The first exchange tells it that the server went back, the next one sends again.
    other.exchanges()
    other.syncs()
    tablet.syncs_now()
    assert tablet.status()["lost"] == 0
    assert len(entries(restored, record)) == 3
    restored.conn.close()
    assert tablet.shows(record, WEIGHT) == [KG_80]


def test_an_entry_that_is_refused_does_not_keep_the_server_s_return_in_sight(
    shared_browser, standing, standing_db
):
    tablet = tablet_named(shared_browser, standing, standing_db, "holds-refused")
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    no = {"answer": "refused", "counts": None, "because": "No.", "position": None}

    def refuses(told):
        told.update(WENT_BACK if not heads[1:] else {})
        told["answers"] = [{**one, **no} for one in told["answers"]]
        told["logs"] = [{**log, "held": 0} for log in told["logs"]]
        told["pull"] = []

    heads = tablet.heads()
    tablet.hears(refuses)
    tablet.starts()
    tablet.syncs_now()
    tablet.syncs_now()
    assert len(tablet.status()["refused"]) == 1
    assert "strip.went_back" not in tablet.notes()
    tablet.page.close()


def test_two_servers_under_one_address_are_not_asked_without_end(
    shared_browser, standing, standing_db
):
    tablet = tablet_named(shared_browser, standing, standing_db, "holds-two")
    tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    heads = tablet.heads()
    tablet.hears(lambda told: told.update(WENT_BACK))
    tablet.starts()
    tablet.syncs_now()
    assert len(heads) == 3
    assert tablet.status()["total"] == 1
    tablet.page.close()
