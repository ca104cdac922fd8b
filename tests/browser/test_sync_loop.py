"""Entries reach the server by themselves, once, whatever stands in between."""

from __future__ import annotations

import json
import threading

import pytest

from tests.support.browser import wait_until
from tests.support.node import call
from tests.support.syncing import (
    APPEND_MANY,
    ARRIVED,
    EVENT,
    HOLD_SENDING,
    NAME,
    NO_LONG_WAITS,
    WEIGHT,
    BedsideTablet,
    entries,
    ruling_of,
)

# Resolves after the loop was told, which listens already.
HEAR_OF_ENTRY = """() => {
  window.heard = new Promise((told) => store.onChange(({ what }) => what === "record" && told(true)));
}"""


def answer_with(page, **answer) -> None:
    page.route("**/sync", lambda route: route.fulfill(**answer))


@pytest.fixture
def tablet(browser, live, db) -> BedsideTablet:
    return BedsideTablet(browser, live, db)


def test_an_entry_arrives_by_itself_and_counts(tablet, db):
    kept = tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    tablet.wait_until_sent()
    assert [row["id"] for row in entries(db)] == [kept["id"]]
    assert ruling_of(db, kept["id"]) == "counted"
    words = {"key": "strip.all_sent", "args": {"total": 1, "count": 1}}
    assert tablet.status()["words"] == words
    assert tablet.status()["reach"] == "yes"


def test_what_was_kept_without_a_server_arrives_when_it_is_back(tablet, live, db):
    tablet.syncs_now()
    live.stop()
    record = tablet.new_record()
    ids = [tablet.appends(record, NAME, name)["id"] for name in ("A", "AL", "ALD")]
    tablet.syncs_now()
    status = tablet.status()
    assert (status["unsent"], status["reach"]) == (3, "no")
    assert status["words"]["key"] == "strip.none_sent"
    live.start()
    tablet.wait_until_sent()
    assert [row["id"] for row in entries(db)] == ids


def test_a_kill_while_the_answer_is_awaited_loses_and_doubles_nothing(
    browser, live, db
):
    tablet = BedsideTablet(browser, live, db, starts=False)
    asked = threading.Event()
    tablet.page.route("**/sync", lambda route: asked.set())
    record = tablet.new_record()
    kept = tablet.appends(record, NAME, "ALDERMERE")
    with tablet.page.expect_request("**/sync"):
        tablet.starts()
    browser.kill()
    again = BedsideTablet(browser, live)
    assert again.shows(record, NAME) == ["ALDERMERE"]
    again.wait_until_sent()
    assert [row["id"] for row in entries(db)] == [kept["id"]]


def test_a_lost_answer_sends_nothing_twice(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)

    def lose(route):
        route.fetch()
        route.abort("connectionreset")

    tablet.page.route("**/sync", lose)
    kept = tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).reach === 'no'")
    assert len(entries(db)) == 1
    assert tablet.status()["unsent"] == 1
    tablet.page.unroute("**/sync")
    tablet.wait_until_sent()
    assert [row["id"] for row in entries(db)] == [kept["id"]]


@pytest.mark.parametrize(
    ("answer", "reach"),
    [
        ({"status": 200, "content_type": "text/html", "body": "<h1>Wi"}, "not_ours"),
        ({"status": 302, "headers": {"location": "/sign-in"}}, "not_ours"),
        ({"status": 200, "content_type": "application/json", "body": ""}, "no"),
        ({"status": 200, "json": {}}, "not_ours"),
        ({"status": 200, "json": {"ok": True}}, "not_ours"),
        ({"status": 200, "json": {"ok": True, "answers": [], "logs": []}}, "not_ours"),
        (
            {"status": 200, "content_type": "application/json", "body": '{"ok":true,'},
            "no",
        ),
        ({"status": 400, "json": {"ok": False, "error": "unreadable"}}, "fault"),
        ({"status": 401, "json": {"ok": False, "error": "who"}}, "unauthorised"),
        ({"status": 403, "content_type": "text/html", "body": "no"}, "not_ours"),
        ({"status": 404, "content_type": "text/html", "body": "no"}, "not_ours"),
        ({"status": 409, "json": {"ok": False, "error": "no"}}, "fault"),
        ({"status": 429, "headers": {"retry-after": "1"}, "body": "slow"}, "fault"),
        ({"status": 500, "content_type": "text/html", "body": "oops"}, "fault"),
        ({"status": 502, "content_type": "text/html", "body": "proxy"}, "fault"),
        ({"status": 503, "body": ""}, "fault"),
    ],
    ids=lambda given: str(given.get("status")) if isinstance(given, dict) else given,
)
def test_whatever_answers_instead_of_our_server_every_entry_stays(
    shared_browser, standing, standing_db, answer, reach, request
):
    name = request.node.callspec.id
    tablet = BedsideTablet(shared_browser, standing, standing_db, False, name)
    answer_with(tablet.page, **answer)
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.starts()
    wait_until(tablet.page, f"(await store.status()).reach === {reach!r}")
    assert tablet.status()["unsent"] == 1
    assert tablet.shows(record, NAME) == ["ALDERMERE"]
    assert entries(standing_db, record) == []
    tablet.page.close()
    # What a server fell over is left out until the page opens again.
    again = BedsideTablet(shared_browser, standing, name=name)
    again.wait_until_sent()
    assert len(entries(standing_db, record)) == 1
    again.page.close()


def test_a_browser_that_believes_it_is_offline_sends_all_the_same(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)
    tablet.page.evaluate("""() =>
      Object.defineProperty(navigator, "onLine", { get: () => false })""")
    tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    tablet.starts()
    tablet.wait_until_sent()
    assert len(entries(db)) == 1


def test_a_batch_too_large_for_what_stands_between_is_sent_in_smaller_ones(
    browser, live, db
):
    tablet = BedsideTablet(browser, live, db, starts=False)

    def limit(route):
        if len(route.request.post_data_buffer or b"") > 20_000:
            route.fulfill(status=413, content_type="text/html", body="too large")
        else:
            route.continue_()

    tablet.page.route("**/sync", limit)
    record = tablet.new_record()
    tablet.page.evaluate(APPEND_MANY, [record, 100])
    large = tablet.appends(record, "patient.alias_why", "x" * 30_000)
    tablet.page.evaluate(APPEND_MANY, [record, 5])
    tablet.starts()
    wait_until(tablet.page, ARRIVED, 60)
    status = tablet.status()
    assert [refused["id"] for refused in status["refused"]] == [large["id"]]
    assert status["refused"][0]["path"] == "patient.alias_why"
    assert status["onServer"] == 105
    assert "strip.refused" in tablet.notes()
    assert large["id"] not in {row["id"] for row in entries(db)}
    assert len(entries(db)) == 105
    assert tablet.shows(record, "patient.alias_why") == ["x" * 30_000]


def test_an_entry_over_which_the_server_falls_holds_up_no_other(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)
    record = tablet.new_record()
    poison = tablet.appends(record, NAME, "poison")["id"].encode()
    others = [tablet.appends(record, NAME, f"good {n}")["id"] for n in range(3)]

    def fall(route):
        if poison in (route.request.post_data_buffer or b""):
            route.fulfill(status=500, content_type="text/html", body="oops")
        else:
            route.continue_()

    tablet.page.route("**/sync", fall)
    tablet.starts()
    wait_until(tablet.page, "(await store.status()).refused.length === 1", 60)
    assert [row["id"] for row in entries(db)] == others
    status = tablet.status()
    assert (status["onServer"], status["unsent"]) == (3, 0)
    assert status["refused"][0]["value"] == "poison"
    assert tablet.shows(record, NAME) == ["good 2"]


def test_a_long_queue_goes_in_batches_and_arrives_whole(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)
    sizes = []
    tablet.page.on(
        "request",
        lambda asked: (
            sizes.append(len(asked.post_data_buffer or b""))
            if asked.url.endswith("/sync")
            else None
        ),
    )
    tablet.page.evaluate(APPEND_MANY, [tablet.new_record(), 1200])
    tablet.starts()
    tablet.wait_until_sent()
    assert [row["seq"] for row in entries(db)] == list(range(1, 1201))
    assert len(sizes) >= 3
    assert max(sizes) <= 4 * 1024 * 1024


def test_two_pages_of_one_tablet_send_nothing_twice(browser, live, db):
    first = BedsideTablet(browser, live, db)
    second = BedsideTablet(browser, live)
    record = first.new_record()
    for n in range(10):
        (first if n % 2 else second).appends(record, NAME, f"{n}")
        for tablet in (first, second):
            tablet.page.evaluate("dispatchEvent(new Event('online'))")
    first.wait_until_sent()
    second.wait_until_sent()
    assert [row["seq"] for row in entries(db)] == list(range(1, 11))
    assert first.shows(record, NAME) == second.shows(record, NAME) == ["9"]


def test_an_entry_kept_while_another_page_sends_is_not_left_for_later(
    browser, live, db
):
    tablet = BedsideTablet(browser, live, db, starts=False)
    tablet.page.evaluate(NO_LONG_WAITS)
    tablet.page.evaluate(HOLD_SENDING)
    tablet.starts()
    tablet.syncs_now()
    tablet.page.evaluate(HEAR_OF_ENTRY)
    kept = tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    tablet.page.evaluate("heard")
    # This round finds that another page sends, which may have looked before.
    tablet.syncs_now()
    assert tablet.status()["unsent"] == 1
    tablet.page.evaluate("letsSend()")
    tablet.wait_until_sent()
    assert [row["id"] for row in entries(db)] == [kept["id"]]


def test_a_network_that_appears_while_a_round_fails_is_used_at_once(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)
    tablet.page.evaluate(NO_LONG_WAITS)
    tablet.appends(tablet.new_record(), NAME, "ALDERMERE")
    stalled = []

    def stall(route):
        if stalled:
            return route.continue_()
        return stalled.append(route)

    tablet.page.route("**/sync", stall)
    with tablet.page.expect_request("**/sync"):
        tablet.starts()
    tablet.page.evaluate("dispatchEvent(new Event('online'))")
    stalled[0].abort()
    tablet.wait_until_sent()
    assert len(entries(db)) == 1


def test_what_the_server_sets_aside_is_told_and_does_not_count_here_either(tablet, db):
    record = tablet.new_record()
    tablet.appends(record, NAME, "ALDERMERE")
    odd = tablet.appends(record, "patient.no_such_field", "x")
    tablet.wait_until_sent()
    assert ruling_of(db, odd["id"]) == "set_aside"
    status = tablet.status()
    [told] = status["setAside"]
    assert (told["id"], told["path"]) == (odd["id"], "patient.no_such_field")
    assert told["because"]
    assert "strip.set_aside" in tablet.notes()
    assert tablet.shows(record, "patient.no_such_field") == []
    assert tablet.shows(record, NAME) == ["ALDERMERE"]
    assert status["onServer"] == 2


def test_two_tablets_that_answered_unseen_both_show_two_answers(tablet, cast):
    other = cast.tablet("tablet 2")
    record = tablet.new_record()
    other.sets(record, WEIGHT, {"as": "80", "n": "80", "unit": "kg"})
    other.syncs()
    tablet.appends(record, WEIGHT, {"as": "70", "n": "70", "unit": "kg"})
    tablet.wait_until_sent()
    tablet.syncs_now()
    assert sorted(v["n"] for v in tablet.shows(record, WEIGHT)) == ["70", "80"]
    other.syncs()
    assert sorted(v["n"] for v in other.shows(record, WEIGHT)) == ["70", "80"]
    tablet.appends(record, WEIGHT, {"as": "70", "n": "70", "unit": "kg"})
    tablet.wait_until_sent()
    other.syncs()
    assert [v["n"] for v in other.shows(record, WEIGHT)] == ["70"]


def test_what_was_pulled_is_there_after_a_kill_without_a_server(
    browser, live, db, cast
):
    tablet = BedsideTablet(browser, live, db)
    other = cast.tablet("tablet 2")
    record = tablet.new_record()
    for n in range(650):
        other.adds(record, EVENT, {"what": f"other {n}"})
    other.syncs()
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.wait_until_sent()
    tablet.syncs_now()
    assert len(tablet.fold(record)["order"]) == 651
    browser.kill()
    live.stop()
    live.start()
    again = BedsideTablet(browser, live, starts=False)
    live.stop()
    folded = again.fold(record)
    assert len(folded["order"]) == 651
    values = [row["value"]["what"] for row in folded["rows"][EVENT]]
    assert values == [f"other {n}" for n in range(650)]
    dumped = json.dumps(again.rows("pulled"))
    assert "other 1" not in dumped


def test_nothing_that_was_pulled_is_pulled_again(tablet, cast):
    other = cast.tablet("tablet 2")
    record = tablet.new_record()
    other.sets(record, WEIGHT, {"as": "80", "n": "80", "unit": "kg"})
    other.syncs()
    tablet.appends(record, NAME, "ALDERMERE")
    tablet.wait_until_sent()
    for _ in range(3):
        tablet.syncs_now()
    assert len(tablet.rows("pulled")) == 1


def test_the_clock_s_difference_is_kept_with_each_entry(browser, live, db):
    tablet = BedsideTablet(browser, live, db, starts=False)

    def from_a_server_ten_minutes_behind(route):
        answer = route.fetch()
        told = answer.json()
        told["server_time"] = "2026-01-01T00:00:00.000Z"
        route.fulfill(response=answer, json=told)

    tablet.page.route("**/sync", from_a_server_ten_minutes_behind)
    tablet.starts()
    tablet.syncs_now()
    record = tablet.new_record()
    kept = tablet.appends(record, NAME, "ALDERMERE")
    skew = tablet.status()["skew_ms"]
    assert skew > 0
    assert tablet.fold(record)["entries"][kept["id"]]["at"]["skew_ms"] == skew
    assert "strip.clock_off" in tablet.notes()


def test_waits_grow_to_a_minute_and_are_never_the_same_for_two_tablets():
    shortest = call("sync/wait.js", "waitMs", [[n, None, 0] for n in range(1, 9)])
    longest = call("sync/wait.js", "waitMs", [[n, None, 1] for n in range(1, 9)])
    assert shortest == [1000, 2000, 4000, 8000, 16000, 30000, 30000, 30000]
    assert longest == [2000, 4000, 8000, 16000, 32000, 60000, 60000, 60000]


def test_a_server_that_asks_to_wait_longer_is_heeded():
    assert call("sync/wait.js", "waitMs", [[1, 120, 0], [1, 1, 1]]) == [120_000, 2000]
