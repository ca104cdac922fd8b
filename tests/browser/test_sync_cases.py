"""What public bug reports tell of sync, tried on the tablet: nothing lost or doubled.

Source: each case as reported in the threads named in the developers' table of cases.
"""

import json
from collections import Counter
from itertools import count

import pytest

from tests.support.browser import wait_until
from tests.support.releases import CACHED
from tests.support.syncing import (
    APPEND_MANY,
    ENROL,
    EVENT,
    NAME,
    WEIGHT,
    BedsideTablet,
    entries,
    head_of,
    ruling_of,
)
from webapp.people import tablets

NUMBER = count()
ALL_SENT = "(await store.status()).unsent === 0 && (await store.status()).total === {}"
SHIFTED_CLOCK = """async (by_ms) => {
  const { openStore } = await import("/static/js/log/store.js");
  const real = Date.now;
  Date.now = () => real() + by_ms;
  window.store.close();
  window.store = await openStore({ name: window.storeName });
}"""
KG_80 = {"as": "80", "n": "80", "unit": "kg"}
KG_70 = {"as": "70", "n": "70", "unit": "kg"}


class Ward:
    """The shared server, and tablets of their own in the shared browser."""

    def __init__(self, browser, standing, db):
        self.browser, self.standing, self.db = browser, standing, db
        self.open = []

    def tablet(self, **how):
        name = f"cases {next(NUMBER)}"
        made = BedsideTablet(self.browser, self.standing, self.db, False, name, **how)
        self.open.append(made)
        return made

    def opens_again(self, tablet):
        tablet.page.close()
        again = BedsideTablet(
            self.browser, self.standing, starts=False, name=tablet.name
        )
        self.open.append(again)
        return again

    def seqs(self, record):
        return sorted(row["seq"] for row in entries(self.db, record))


@pytest.fixture
def ward(shared_browser, standing, standing_db):
    made = Ward(shared_browser, standing, standing_db)
    yield made
    for tablet in made.open:
        tablet.page.close()


def loses_answer(tablet):
    """Let the server act on one request, and the page see a broken connection."""

    lost = []

    def lose(route):
        if lost:
            return route.continue_()
        lost.append(route.fetch())
        return route.abort("connectionreset")

    tablet.page.route("**/sync", lose)


def test_a_second_record_with_the_same_values_is_a_second_record(ward):
    tablet = ward.tablet()
    loses_answer(tablet)
    first, second = tablet.new_record(), tablet.new_record()
    tablet.appends(first, NAME, "ALDERMERE")
    tablet.starts()
    tablet.syncs_now()
    assert tablet.status()["unsent"] == 1
    tablet.appends(second, NAME, "ALDERMERE")
    tablet.syncs_now()
    assert [ward.seqs(record) for record in (first, second)] == [[1], [2]]
    assert tablet.status()["unsent"] == 0


def test_a_repeat_after_the_server_started_again_is_had_not_doubled(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)
    loses_answer(tablet)
    record = tablet.new_record()
    kept = tablet.appends(record, NAME, "ALDERMERE")
    tablet.starts()
    tablet.syncs_now()
    live.kill()
    live.start()
    tablet.syncs_now()
    assert [row["id"] for row in entries(db)] == [kept["id"]]
    assert tablet.status()["onServer"] == 1


def test_runs_that_overlap_send_each_entry_once(ward):
    first = ward.tablet()
    second = BedsideTablet(ward.browser, ward.standing, starts=False, name=first.name)
    ward.open.append(second)
    sent = Counter()

    def note(asked):
        if asked.url.endswith("/sync"):
            told = head_of(asked.post_data_buffer or b"")["entries"]
            sent.update(one["header"].split("\n")[1] for one in told)

    for tablet in (first, second):
        tablet.page.on("request", note)
        tablet.starts()
    record = first.new_record()
    for n in range(10):
        (first if n % 2 else second).appends(record, EVENT, {"what": f"{n}"}, op="add")
        for tablet in (first, second):
            tablet.page.evaluate("""() => { dispatchEvent(new Event("online"));
              for (let n = 0; n < 5; n++) void sync.now(); }""")
    for tablet in (first, second):
        wait_until(tablet.page, ALL_SENT.format(10))
    assert ward.seqs(record) == list(range(1, 11))
    assert set(sent.values()) == {1}


@pytest.mark.parametrize("status", [400, 409, 413, 422, 500])
def test_one_entry_that_is_refused_each_time_holds_up_no_other(ward, status):
    tablet = ward.tablet()
    record = tablet.new_record()
    bad = tablet.appends(record, EVENT, {"what": "bad"}, op="add")["id"]
    for n in range(2):
        tablet.appends(record, EVENT, {"what": f"good {n}"}, op="add")

    def refuse(route):
        if bad.encode() in (route.request.post_data_buffer or b""):
            route.fulfill(status=status, json={"ok": False, "error": "no"})
        else:
            route.continue_()

    tablet.page.route("**/sync", refuse)
    tablet.starts()
    # Each round by hand: the waits between them grow, and are tried elsewhere.
    for _ in range(8):
        tablet.syncs_now()
    assert ward.seqs(record) == [2, 3]
    [told] = tablet.status()["refused"]
    assert (told["id"], told["path"], told["value"]) == (bad, EVENT, {"what": "bad"})
    assert told["because"].startswith("storage.")
    tablet.page.unroute("**/sync")
    again = ward.opens_again(tablet)
    again.starts()
    again.syncs_now()
    assert ward.seqs(record) == [1, 2, 3]
    assert again.status()["refused"] == []


HTML = "<!doctype html><title>Sign in</title><h1>Welcome to the guest network</h1>"
STRANGE = {
    "nothing": {"body": ""},
    "html": {"body": HTML, "content_type": "text/html"},
    "half": {"body": '{"ok":true,"answers":[', "content_type": "application/json"},
    "other": {"body": '{"result":"success"}', "content_type": "application/json"},
    "null": {"body": "null", "content_type": "application/json"},
    "list": {"body": "[]", "content_type": "application/json"},
}


def test_no_status_and_no_body_takes_an_entry_from_the_tablet(ward):
    tablet = ward.tablet()
    record = tablet.new_record()
    kept = tablet.appends(record, NAME, "ALDERMERE")
    [before] = tablet.rows("entries")
    answer = {}
    cached = tablet.page.evaluate(CACHED)
    tablet.page.route("**/sync", lambda route: route.fulfill(**answer))
    tablet.starts()
    for status in (200, 201, 204, *range(300, 600, 11), 401, 403, 404, 409, 413, 429):
        for told in STRANGE.values():
            headers = {"location": "/sign-in"} if 300 <= status < 400 else {}
            answer.clear()
            answer.update({"status": status, "headers": headers, **told})
            tablet.syncs_now()
    assert tablet.rows("entries") == [before]
    assert tablet.shows(record, NAME) == ["ALDERMERE"]
    assert tablet.status()["onServer"] == 0
    assert entries(ward.db, record) == []
    assert tablet.page.evaluate(CACHED) == cached
    tablet.page.unroute("**/sync")
    again = ward.opens_again(tablet)
    again.starts()
    wait_until(again.page, ALL_SENT.format(1))
    assert [row["id"] for row in entries(ward.db, record)] == [kept["id"]]


def test_an_answer_changed_while_it_is_sent_ends_as_the_later_one(ward):
    tablet = ward.tablet()
    record = tablet.new_record()
    tablet.appends(record, NAME, "first")
    stalled = []

    def stall(route):
        if stalled:
            return route.continue_()
        return stalled.append(route)

    tablet.page.route("**/sync", stall)
    with tablet.page.expect_request("**/sync"):
        tablet.starts()
    tablet.appends(record, NAME, "second")
    stalled[0].continue_()
    wait_until(tablet.page, ALL_SENT.format(2))
    other = ward.tablet()
    other.appends(record, EVENT, {"what": "there too"}, op="add")
    other.starts()
    other.syncs_now()
    other.syncs_now()
    assert other.shows(record, NAME) == ["second"]
    assert ward.seqs(record)[-1] == 2


DAY_MS = 24 * 3_600_000
CLOCKS = {
    "a day behind": -DAY_MS,
    "a year ahead": 365 * DAY_MS,
    "1970": "1970",
}


@pytest.mark.parametrize("clock", CLOCKS)
def test_a_wrong_clock_makes_nothing_lose_and_is_told(ward, clock):
    right, wrong = ward.tablet(), ward.tablet()
    by_ms = CLOCKS[clock]
    if by_ms == "1970":
        by_ms = 1000 - wrong.page.evaluate("Date.now()")
    wrong.page.evaluate(SHIFTED_CLOCK, by_ms)
    record = right.new_record()
    right.appends(record, WEIGHT, KG_80)
    wrong.appends(record, WEIGHT, KG_70)
    for n in range(3):
        wrong.appends(record, NAME, f"answer {n}")
    for tablet in (right, wrong, right, wrong):
        tablet.starts()
        tablet.syncs_now()
        tablet.page.evaluate("sync.stop()")
    for tablet in (right, wrong):
        assert sorted(v["n"] for v in tablet.shows(record, WEIGHT)) == ["70", "80"]
        assert tablet.shows(record, NAME) == ["answer 2"]
    assert "strip.clock_off" in wrong.notes()
    assert "strip.clock_off" not in right.notes()
    assert len(entries(ward.db, record)) == 5


@pytest.mark.parametrize("believes", [True, False], ids=["online", "offline"])
def test_what_the_browser_believes_of_the_network_decides_nothing(ward, believes):
    tablet = ward.tablet()
    tablet.page.evaluate(
        """(believes) => {
          Object.defineProperty(navigator, "onLine", { get: () => believes });
          delete window.SyncManager;
        }""",
        believes,
    )
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.page.route("**/sync", lambda route: route.abort())
    tablet.starts()
    tablet.syncs_now()
    status = tablet.status()
    assert (status["reach"], status["unsent"]) == ("no", 1)
    assert status["words"]["key"] == "strip.none_sent"
    tablet.page.unroute("**/sync")
    tablet.page.evaluate("dispatchEvent(new Event('pageshow'))")
    wait_until(tablet.page, ALL_SENT.format(1))
    assert ward.seqs(record) == [1]


def test_a_token_that_ended_stops_quietly_and_a_new_one_sends_the_rest(ward):
    tablet = ward.tablet()
    record = tablet.new_record()
    tablet.appends(record, EVENT, {"what": "before"}, op="add")
    tablet.starts()
    wait_until(tablet.page, ALL_SENT.format(1))
    here = tablet.page.evaluate("store.enrolment()")["tablet"]["id"]
    # Somebody else enrols in this tablet's place: its token ends.
    tablets.redeem(ward.db, tablets.renew(ward.db, here))
    for n in range(3):
        tablet.appends(record, EVENT, {"what": f"{n}"}, op="add")
    tablet.syncs_now()
    status = tablet.status()
    assert (status["reach"], status["unsent"]) == ("unauthorised", 3)
    assert "strip.unauthorised" in tablet.notes()
    assert tablet.page.evaluate(ENROL, tablets.renew(ward.db, here)) is None
    wait_until(tablet.page, ALL_SENT.format(4))
    assert ward.seqs(record) == [1, 2, 3, 4]
    told = {ruling_of(ward.db, row["id"]) for row in entries(ward.db, record)}
    assert told == {"counted"}


def test_an_answer_that_leaves_out_one_entry_leaves_it_unsent(ward):
    tablet = ward.tablet()
    record = tablet.new_record()
    ids = [tablet.appends(record, NAME, name)["id"] for name in ("A", "AL", "ALD")]
    changes = []

    def leaves_one_out(told):
        if not changes:
            changes.append(told)
            unknown = {**told["answers"][0], "id": tablet.new_record()}
            told["answers"] = [a for a in told["answers"] if a["id"] != ids[1]]
            told["answers"].append(unknown)
            told["logs"] = [{**log, "held": 1} for log in told["logs"]]
            told["pull"] = []
            tablet.page.evaluate("sync.stop()")

    tablet.hears(leaves_one_out)
    tablet.starts()
    tablet.syncs_now()
    assert tablet.status()["unsent"] == 1
    assert tablet.status()["onServer"] == 2
    heads = tablet.heads()
    tablet.starts()
    tablet.syncs_now()
    assert [one["header"].split("\n")[1] for one in heads[0]["entries"]] == [ids[1]]
    assert ward.seqs(record) == [1, 2, 3]
    assert tablet.status()["unsent"] == 0


# Before a request is as after the one ahead of it; a reply on its way is as one that
# was lost, but for the last.
STEPS = [(1, "before"), *((n, "after") for n in (1, 2, 3, 4)), (4, "reply")]


@pytest.mark.parametrize(("request_no", "cut"), STEPS)
def test_a_page_that_dies_at_any_step_of_twenty_entries_loses_none(
    ward, request_no, cut
):
    tablet = ward.tablet()
    record = tablet.new_record()
    tablet.page.evaluate(APPEND_MANY, [record, 20])
    seen = []

    def small(route):
        body = route.request.post_data_buffer or b""
        if len(head_of(body)["entries"]) > 5:
            return route.fulfill(status=413, body="too large")
        seen.append(body)
        if len(seen) < request_no:
            return route.continue_()
        # The page is gone before the request, before its answer, or while it is read.
        if cut == "after":
            route.fetch()
        if cut == "reply":
            told = route.fetch()
            route.fulfill(response=told)
        return None

    tablet.page.route("**/sync", small)
    tablet.starts()
    while len(seen) < request_no:
        tablet.page.evaluate("new Promise((done) => setTimeout(done, 5))")
    again = ward.opens_again(tablet)
    again.starts()
    wait_until(again.page, ALL_SENT.format(20))
    assert ward.seqs(record) == list(range(1, 21))
    assert len(again.fold(record)["order"]) == 20
    assert json.dumps(again.fold(record)).count("event 19") == 1


def test_what_was_struck_elsewhere_stays_struck_when_it_is_sent_again(ward):
    first, second = ward.tablet(), ward.tablet()
    record = first.new_record()
    row = first.appends(record, EVENT, {"what": "by mistake"}, op="add")["id"]
    loses_answer(first)
    first.starts()
    first.syncs_now()
    first.page.evaluate("sync.stop()")
    second.appends(record, NAME, "ALDERMERE")
    second.starts()
    second.syncs_now()
    second.syncs_now()
    strike = {"strikes": row, "reason": "entered in error"}
    second.appends(record, EVENT, strike, op="strike")
    second.syncs_now()
    second.page.evaluate("sync.stop()")
    first.appends(record, EVENT, {"what": "meanwhile"}, op="add")
    first.starts()
    first.syncs_now()
    for tablet in (first, second):
        tablet.starts()
        tablet.syncs_now()
        tablet.page.evaluate("sync.stop()")
        rows = tablet.fold(record)["rows"][EVENT]
        told = {one["value"]["what"]: one["struck"] is not None for one in rows}
        assert told == {"by mistake": True, "meanwhile": False}
