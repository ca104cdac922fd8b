"""A ruling may be told again, later: the newest word on an entry stands."""

import json
from itertools import count

import pytest

from tests.support.browser import wait_until
from tests.support.syncing import (
    EVENT,
    NAME,
    BedsideTablet,
    entries,
    given,
    head_of,
    said,
    share,
)

NUMBER = count()
LATER = {"counts": "counted", "because": None}
ASIDE = {"counts": "set_aside", "because": "This server has no such field."}
ROW = {"what": "theirs"}
BY_DESK = {"ruling": "counted", "because": "", "digest": "0" * 64}


class Named:
    """A tablet on the shared server, its replies changed one by one."""

    def __init__(self, shared_browser, standing, standing_db, name):
        self.browser, self.standing, self.name = shared_browser, standing, name
        self.it = BedsideTablet(shared_browser, standing, standing_db, False, name)
        self.record = self.it.new_record()
        self.changes = []
        self.it.hears(self._change)

    def _change(self, told):
        if self.changes:
            self.changes.pop(0)(told)

    def hears(self, change):
        """Sync once, with this change to the reply."""
        self.changes.append(change)
        if not self.it.page.evaluate("'sync' in window"):
            self.it.starts()
        self.it.syncs_now()
        assert self.changes == []

    def opens_again(self):
        """Close the page and open it again; nothing syncs."""
        self.it.page.close()
        self.it = BedsideTablet(
            self.browser, self.standing, starts=False, name=self.name
        )
        return self.it

    def events(self):
        rows = self.it.fold(self.record)["rows"].get(EVENT, [])
        return [row["value"]["what"] for row in rows]


@pytest.fixture
def named(shared_browser, standing, standing_db):
    made = Named(shared_browser, standing, standing_db, f"pulled {next(NUMBER)}")
    made.it.appends(made.record, NAME, "ALDERMERE")
    yield made
    made.it.page.close()


def gives(record, *given_entries):
    """Add what another writer wrote to the reply, in front of the real share."""
    return lambda told: told["pull"].insert(0, share(record, *given_entries))


def test_an_entry_of_others_that_is_released_later_counts_now_and_after_a_reload(named):
    record = named.record
    theirs = given(record, 5, None, "desk", 3, **ASIDE)
    named.hears(gives(record, theirs))
    assert named.events() == []
    again = {
        **theirs,
        **LATER,
        "body": given(record, 5, said(EVENT, ROW, "add"))["body"],
    }
    ruled = {**BY_DESK, "entry": theirs["header"].split("\n")[1]}
    word = given(record, 90_000, said("rulings", ruled, "add"), "desk", 9)
    named.hears(gives(record, again, word))
    assert named.events() == ["theirs"]
    named.opens_again()
    assert named.events() == ["theirs"]


def test_an_entry_of_others_that_is_erased_is_gone_now_and_after_a_reload(named):
    record = named.record
    theirs = given(record, 5, said(EVENT, ROW, "add"), "desk", 3)
    named.hears(gives(record, theirs))
    assert named.events() == ["theirs"]
    named.hears(gives(record, {**theirs, "body": None}))
    assert named.events() == []
    named.opens_again()
    assert named.events() == []


def test_the_newest_of_many_words_on_an_entry_stands(named):
    record = named.record
    theirs = given(record, 5, said(EVENT, ROW, "add"), "desk", 3)
    for word, shown in (
        (ASIDE, []),
        (LATER, ["theirs"]),
        (ASIDE, []),
        (LATER, ["theirs"]),
    ):
        named.hears(gives(record, {**theirs, **word}))
        assert named.events() == shown
    named.opens_again()
    assert named.events() == ["theirs"]


def sets_own_aside(entry):
    """Rule in the reply as a server would that knew no such field."""

    def change(told):
        for answer in told["answers"]:
            answer.update(ASIDE if answer["id"] == entry else {})
        for part in told["pull"]:
            for one in part["entries"]:
                one.update(ASIDE if entry in one["header"] else {})

    return change


def test_an_own_entry_that_is_released_counts_and_leaves_the_strip(named):
    own = named.it.appends(named.record, EVENT, {"what": "own"}, op="add")
    named.hears(sets_own_aside(own["id"]))
    assert named.events() == []
    assert "strip.set_aside" in named.it.notes()
    [row] = [row for row in named.it.rows("entries") if row["id"] == own["id"]]
    again = given(named.record, 1, said(EVENT, {"what": "own"}, "add"))
    named.hears(gives(named.record, {**again, "header": row["header"]}))
    assert named.events() == ["own"]
    assert "strip.set_aside" not in named.it.notes()
    assert named.it.rows("rulings") == []
    named.opens_again()
    assert named.events() == ["own"]


def test_an_own_entry_that_is_erased_is_shown_nowhere_but_named(named):
    own = named.it.appends(named.record, EVENT, {"what": "own"}, op="add")
    named.hears(lambda told: None)
    assert named.events() == ["own"]
    [row] = [row for row in named.it.rows("entries") if row["id"] == own["id"]]
    erased = given(named.record, 1, None)
    named.hears(gives(named.record, {**erased, "header": row["header"]}))
    named.opens_again()
    assert named.events() == []
    assert [told["id"] for told in named.it.status()["erased"]] == [own["id"]]


@pytest.mark.parametrize("word", ["refused", "conflict"])
def test_an_entry_that_was_not_taken_is_offered_again_and_counts_once_it_is(
    named, standing_db, word
):
    own = named.it.appends(named.record, EVENT, {"what": "own"}, op="add")
    no = {"answer": word, "counts": None, "because": "Not now.", "position": None}

    def refuses(route):
        answer = route.fetch(post_data=b"\x00\x00\x00\x00")
        assert answer.status == 400
        route.fulfill(json=reply(named, [{"id": own["id"], **no}]))

    named.it.page.unroute("**/sync")
    named.it.page.route("**/sync", refuses)
    named.it.starts()
    named.it.syncs_now()
    status = named.it.status()
    assert len(status["refused"]) + len(status["conflicts"]) == 1
    assert own["id"] not in {row["id"] for row in entries(standing_db)}
    assert named.events() == ["own"]
    again = named.opens_again()
    again.starts()
    again.wait_until_sent()
    settled = "(s => s.refused.length + s.conflicts.length === 0)(await store.status())"
    wait_until(again.page, settled)
    assert own["id"] in {row["id"] for row in entries(standing_db, named.record)}
    assert named.events() == ["own"]


def reply(named, answers):
    """A reply of a server that took nothing."""
    key = named.it.page.evaluate(
        """async () => {
          const { openBase } = await import("/static/js/log/db.js");
          const { readMeta } = await import("/static/js/log/meta.js");
          const base = await openBase({ name: window.storeName });
          const { server_key } = await readMeta(base, "enrolment");
          base.close();
          return server_key;
        }"""
    )
    return {
        "ok": True,
        "server_time": "2031-11-24T10:41:00.000Z",
        "answers": answers,
        "logs": [],
        "head": {"position": 0, "chain": "0" * 64},
        "head_known": None,
        "went_back": False,
        "pull": [],
        "people": [],
        "server_key": key,
    }


def test_an_entry_whose_key_comes_later_counts_once_the_server_can_open_it(
    browser, live, db
):
    tablet = BedsideTablet(browser, live, db, starts=False)
    record = tablet.new_record()
    own = tablet.appends(record, EVENT, {"what": "own"}, op="add")

    def without_wraps(route):
        body = route.request.post_data_buffer
        head = head_of(body)
        rest = body[4 + int.from_bytes(body[:4], "big") :]
        bare = json.dumps({**head, "wraps": []}).encode()
        route.continue_(post_data=len(bare).to_bytes(4, "big") + bare + rest)

    tablet.page.route("**/sync", without_wraps)
    tablet.starts()
    tablet.syncs_now()
    [told] = tablet.status()["setAside"]
    assert (told["id"], told["value"]) == (own["id"], {"what": "own"})
    tablet.page.close()
    again = BedsideTablet(browser, live)
    again.syncs_now()
    live.stop()
    live.start()
    again.syncs_now()
    settled = f"""(async () => {{ await sync.now();
      return (await store.fold({record!r})).order.includes({own["id"]!r}); }})()"""
    wait_until(again.page, f"await {settled}")
    assert again.status()["setAside"] == []
    assert "strip.set_aside" not in again.notes()
