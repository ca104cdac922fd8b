"""A ruling may be told again, later: the newest word on an entry stands."""

import json
from itertools import count

import pytest

from tests.support.browser import wait_until
from tests.support.syncing import (
    ENROL,
    EVENT,
    NAME,
    BedsideTablet,
    entries,
    given,
    head_of,
    said,
    share,
)
from webapp.people import tablets

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


def test_what_the_server_set_aside_is_so_after_a_new_enrolment_too(named, standing_db):
    own = named.it.appends(named.record, EVENT, {"what": "own"}, op="add")
    named.hears(sets_own_aside(own["id"]))
    here = named.it.page.evaluate("store.enrolment()")["tablet"]["id"]
    code = tablets.renew(standing_db, here)
    assert named.it.page.evaluate(ENROL, code) is None
    named.opens_again()
    assert named.events() == []
    assert [told["id"] for told in named.it.status()["setAside"]] == [own["id"]]


def test_an_own_entry_that_is_erased_is_shown_nowhere_but_named(named):
    own = named.it.appends(named.record, EVENT, {"what": "own"}, op="add")
    named.hears(lambda told: None)
    assert named.events() == ["own"]
    [row] = [row for row in named.it.rows("entries") if row["id"] == own["id"]]
    erased = given(named.record, 1, None)
    named.hears(gives(named.record, {**erased, "header": row["header"]}))
    named.opens_again()
    assert named.events() == []
    [told] = named.it.status()["erased"]
    assert (told["id"], told["path"], told["value"]) == (own["id"], EVENT, "")


# Every text that any key of this tablet opens, in whatever store it lies.
OPENED = """async ([name, record]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { openKeys } = await import("/static/js/log/keys.js");
  const { openOwn, openPacks, openPulled } = await import("/static/js/log/opened.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase({ name });
  const keys = openKeys(base, (await (await import("/static/js/log/data-key.js")).openDataKey(base, async () => null)).key);
  const all = (store) => base.transact([store], "readonly", (tx) =>
    result(tx.objectStore(store).getAll()));
  const told = JSON.stringify([
    await openOwn(keys, (await all("entries")).filter((row) => row.record === record)),
    await openPulled(keys, (await all("pulled")).filter((row) => row.record === record)),
    await openPacks(keys, (await all("packs")).filter((row) => row.record === record)),
    (await all("meta")).filter(({ name }) => name[0] === "snapshot"),
  ]);
  base.close();
  return told;
}"""
PHOTO = """async (record) => {
  const canvas = new OffscreenCanvas(4, 4);
  canvas.getContext("2d").fillRect(0, 0, 4, 4);
  return store.putPhoto(record, await canvas.convertToBlob({ type: "image/png" }));
}"""


# What the tablet noted of photos that were not taken.
REFUSE = """async ([name, refused]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { metaRow, putMeta } = await import("/static/js/log/meta.js");
  const base = await openBase({ name });
  await base.transact(["meta"], "readwrite", async (tx) =>
    putMeta(tx, "photos", { ...(await metaRow(tx, "photos")), refused }));
  base.close();
}"""


def test_words_that_the_desk_erased_are_in_no_bytes_of_the_tablet(named):
    record = named.record
    photo = named.it.page.evaluate(PHOTO, record)
    own = named.it.appends(record, EVENT, {"what": "my words", "p": photo}, op="add")
    theirs = given(record, 5, said(EVENT, ROW, "add"), "desk", 3)
    named.hears(gives(record, theirs))
    opened = named.it.page.evaluate(OPENED, [named.name, record])
    assert "my words" in opened
    assert "theirs" in opened
    [row] = [row for row in named.it.rows("entries") if row["id"] == own["id"]]
    mine = {**given(record, 6, None), "header": row["header"]}
    named.hears(gives(record, {**theirs, "body": None}, mine))
    opened = named.it.page.evaluate(OPENED, [named.name, record])
    assert "my words" not in opened
    assert "theirs" not in opened
    assert "ALDERMERE" in opened
    assert named.it.rows("photos") == []
    assert named.it.status()["damaged"] == 0
    assert named.it.status()["unsent"] == 0


# Nothing after the answer is kept gets done, as when the browser is killed there.
DIE_AT_ERASING = """() => {
  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (...asked) {
    if (new Error().stack.includes("erasing.js")) throw new DOMException("", "AbortError");
    return begin.apply(this, asked);
  };
}"""
# One byte of an own entry's words, turned round; done twice it is whole again.
TURN_A_BYTE = """async ([name, id]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase({ name });
  await base.transact(["entries"], "readwrite", async (tx) => {
    const row = await result(tx.objectStore("entries").index("id").get(id));
    row.sealed[20] ^= 1;
    tx.objectStore("entries").put(row);
  });
  base.close();
}"""


def erased(named, own, position=6):
    """An own entry as the server tells it once the desk erased it."""
    [row] = [row for row in named.it.rows("entries") if row["id"] == own["id"]]
    return {**given(named.record, position, None), "header": row["header"]}


def opened_in(named):
    return named.it.page.evaluate(OPENED, [named.name, named.record])


def test_an_erasure_is_done_at_the_next_contact_when_the_page_died_before_it(named):
    own = named.it.appends(named.record, EVENT, {"what": "my words"}, op="add")
    named.hears(lambda told: None)
    named.it.page.evaluate(DIE_AT_ERASING)
    named.hears(gives(named.record, erased(named, own)))
    named.opens_again()
    assert "my words" in opened_in(named)
    # The server tells of it once.
    named.it.starts()
    named.it.syncs_now()
    assert "my words" not in opened_in(named)
    assert named.events() == []
    [told] = named.it.status()["erased"]
    assert (told["id"], told["value"]) == (own["id"], "")


def test_an_entry_that_cannot_be_erased_holds_up_no_other_and_is_tried_again(named):
    words = [
        named.it.appends(named.record, EVENT, {"what": f"words {n}"}, op="add")
        for n in range(2)
    ]
    named.hears(lambda told: None)
    named.it.page.evaluate(TURN_A_BYTE, [named.name, words[0]["id"]])
    gone = [erased(named, own, 6 + n) for n, own in enumerate(words)]
    theirs = given(named.record, 9, said(EVENT, ROW, "add"), "desk", 3)
    named.hears(gives(named.record, *gone, theirs))
    assert named.events() == ["theirs"]
    assert "words 1" not in opened_in(named)
    named.it.page.evaluate(TURN_A_BYTE, [named.name, words[0]["id"]])
    assert "words 0" in opened_in(named)
    named.it.syncs_now()
    assert "words 0" not in opened_in(named)
    [row] = [row for row in named.it.rows("meta") if row["name"] == "erasing"]
    assert row["of"] == {}


def test_an_erasure_takes_the_photo_of_its_own_record_only(named):
    other = named.it.new_record()
    photos = [named.it.page.evaluate(PHOTO, one) for one in (named.record, other)]
    named.it.appends(other, EVENT, {"what": "theirs", "p": photos[1]}, op="add")
    own = named.it.appends(
        named.record, EVENT, {"what": "own", "p": photos[0], "q": photos[1]}, op="add"
    )
    named.hears(lambda told: None)
    refused = {
        sealed: {"record": record, "because": "Not now."}
        for sealed, record in (
            (photos[0]["sealed"], named.record),
            (photos[1]["sealed"], other),
        )
    }
    named.it.page.evaluate(REFUSE, [named.name, refused])
    named.hears(gives(named.record, erased(named, own)))
    assert [row["sealed"] for row in named.it.rows("photos")] == [photos[1]["sealed"]]
    [noted] = [row for row in named.it.rows("meta") if row["name"] == "photos"]
    assert photos[0]["sealed"] not in noted["refused"]
    read = "(value) => store.photo(value).then((blob) => blob.size > 0)"
    assert named.it.page.evaluate(read, photos[1])


def test_what_the_server_never_opened_keeps_its_words_here(named):
    own = named.it.appends(named.record, EVENT, {"what": "own"}, op="add")
    named.hears(lambda told: None)
    [row] = [row for row in named.it.rows("entries") if row["id"] == own["id"]]
    unread = {**given(named.record, 6, None, **ASIDE), "header": row["header"]}
    named.hears(gives(named.record, unread))
    assert '"own"' in named.it.page.evaluate(OPENED, [named.name, named.record])


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
