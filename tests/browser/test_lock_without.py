"""What opens without a passphrase: one case by its four digits, all by a sign-in."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.support import lock
from tests.support.bedside import Bedside
from tests.support.browser import Browser, wait_until
from tests.support.cast import PASSWORD, SIGNER, hashed_once
from tests.support.profile_bytes import found_in
from tests.support.releases import READY
from tests.support.server import LiveServer
from tests.support.syncing import entries
from webapp.db import connect, migrate
from webapp.people import accounts, tablets
from webapp.record.entry import decode_body
from webapp.record.open_record import OpenRecord, open_record
from webapp.settings import DATABASE_FILE

OWN = "Zzyxander"
TYPED = "Quillonborough"
LATER = "Yaxleyan"
ASKED = "Brumsholmen"
PLACE = "#case-strip .place"
SENT = """(await (async () => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const { unsent } = await store.status();
  store.close();
  return unsent === 0;
})())"""


class Desk:
    """The server whose tablet it is, away unless a test starts it."""

    def __init__(self, home: Path) -> None:
        self.live = LiveServer(home).start()
        self.db = connect(home / DATABASE_FILE)
        migrate(self.db)
        accounts.add(self.db, SIGNER, hashed_once)

    def reads(self, record: str) -> OpenRecord:
        """What the server reads of a record."""
        found = open_record(self.db, record)
        assert found is not None
        return found


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    made = Desk(tmp_path_factory.mktemp("home"))
    yield made
    made.live.stop()
    made.db.conn.close()


@pytest.fixture(scope="module")
def closed_tablet(desk, playwright_here, tmp_path_factory):
    """An enrolled tablet with a case under its passphrase."""
    browser = Browser(playwright_here, tmp_path_factory.mktemp("profile"))
    url = desk.live.url
    made = Bedside(browser, url)
    _, code = tablets.add(desk.db, "tablet 1")
    made.page.goto(f"{url}/tablet/enrol")
    made.page.get_by_label("Code").fill(code)
    made.page.get_by_role("button", name="Enrol").click()
    lock.is_open(made.page)
    made.starts_now()
    made.types("Family name", OWN)
    made.keeps("patient.family_name", OWN)
    made.address, made.own = made.page.url, made.record
    wait_until(made.page, SENT)
    lock.sets_passphrase(made.page, url)
    wait_until(made.page, READY)
    yield made
    browser.close()


@pytest.fixture
def tablet(closed_tablet, desk):
    """It stands locked, as nobody has unlocked it; the server is away."""
    desk.live.stop()
    page = closed_tablet.page
    if page.is_closed():
        opens(closed_tablet)
    else:
        page.goto("about:blank")
        page.goto(closed_tablet.address.partition("#")[0])
        stands = page.locator("[data-act=lock]:visible, #by-passphrase:visible")
        expect(stands).to_have_count(1)
        if stands.get_attribute("data-act"):
            lock.locks(page)
    lock.is_locked(closed_tablet.page)
    closed_tablet.browser.problems.clear()
    yield closed_tablet
    told = closed_tablet.problems
    assert [one for one in told if "Failed to load resource" not in one] == []


def opens(tablet: Bedside) -> None:
    """Start the tablet's browser again: nobody has unlocked it."""
    tablet.page = tablet.browser.opens(tablet.address.partition("#")[0])
    lock.is_locked(tablet.page)


def begins(tablet: Bedside, name: str) -> str:
    """Start a case from the lock, enter a name, and return the case's code."""
    tablet.page.locator("#start-now").click()
    lock.is_open(tablet.page)
    expect(
        tablet.page.get_by_role("heading", name="Patient", exact=True)
    ).to_be_visible()
    tablet.types("Family name", name)
    tablet.keeps("patient.family_name", name)
    return str(tablet.value("patient.case_code"))


def tries(tablet: Bedside, code: str) -> None:
    """Type a code into the lock."""
    tablet.page.get_by_label("Case code", exact=True).fill(code)
    tablet.page.get_by_role("button", name="Open the case", exact=True).click()


def shows_nothing(tablet: Bedside) -> None:
    lock.is_locked(tablet.page)
    told = tablet.page.content()
    assert [name for name in (OWN, TYPED, LATER) if name in told] == []


def test_a_case_is_begun_at_once_and_its_four_digits_open_it_again(tablet):
    code = begins(tablet, TYPED)
    assert re.fullmatch(r"\d{4}", code)
    # It stands there large all the time; here it opens something.
    expect(tablet.page.locator(PLACE)).to_have_text(f"opens again{code}")
    [one] = tablet.rows("moments")
    assert one["value"]["name"] == "decision"
    tablet.goes_to("Indication")
    place = tablet.page.url
    lock.locks(tablet.page)
    shows_nothing(tablet)
    tries(tablet, code)
    lock.is_open(tablet.page)
    assert tablet.page.url == place
    expect(tablet.page.locator("#case-strip")).to_contain_text(TYPED)


def test_nothing_but_that_case_can_be_seen_without_unlocking(tablet):
    begins(tablet, TYPED)
    tablet.page.goto(tablet.address)
    expect(tablet.page.locator("#start-alert")).to_contain_text("no case under that")
    expect(tablet.page.locator("#cases")).to_contain_text(TYPED)
    expect(tablet.page.locator(".cases-row")).to_have_count(1)
    assert OWN not in tablet.page.content()
    tablet.page.goto(tablet.address.partition("#")[0] + f"#/far/{tablet.own}")
    tablet.page.reload()
    tablet.is_open()
    assert OWN not in tablet.page.content()


def test_two_cases_each_open_by_their_own_code(tablet):
    first = begins(tablet, TYPED)
    lock.locks(tablet.page)
    second = begins(tablet, LATER)
    assert first != second
    tablet.goes_home()
    expect(tablet.page.locator(".cases-row")).to_have_count(1)
    lock.locks(tablet.page)
    tries(tablet, first)
    lock.is_open(tablet.page)
    expect(tablet.page.locator("#case-strip")).to_contain_text(TYPED)
    assert LATER not in tablet.page.content()


def test_five_wrong_codes_open_nothing_and_whoever_unlocks_has_the_case(tablet):
    code = begins(tablet, TYPED)
    lock.locks(tablet.page)
    wrong = [f"{(int(code) - 1000 + n) % 9000 + 1000}" for n in range(1, 6)]
    problem = tablet.page.locator("#code-problem")
    for left, digits in zip((4, 3, 2), wrong, strict=False):
        tries(tablet, digits)
        expect(problem).to_have_text(f"No case has this code. {left} tries left.")
    tries(tablet, wrong[3])
    expect(problem).to_have_text("No case has this code. One try left.")
    tries(tablet, wrong[4])
    expect(problem).to_contain_text("wrong five times")
    expect(tablet.page.locator("#by-code")).to_be_hidden()
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    tablet.goes_home()
    expect(tablet.page.locator("#cases")).to_contain_text(TYPED)
    expect(tablet.page.locator("#cases")).to_contain_text(OWN)
    # Its code still opens it, and it alone.
    lock.locks(tablet.page)
    tries(tablet, code)
    lock.is_open(tablet.page)
    expect(tablet.page.locator("#case-strip")).to_contain_text(TYPED)
    assert OWN not in tablet.page.content()


def test_who_knows_one_code_gains_no_tries_at_another(tablet):
    theirs = begins(tablet, TYPED)
    lock.locks(tablet.page)
    own = begins(tablet, LATER)
    lock.locks(tablet.page)
    wrong = next(f"{n}" for n in range(1000, 1010) if f"{n}" not in (theirs, own))
    for _ in range(4):
        tries(tablet, wrong)
        expect(tablet.page.locator("#code-problem")).to_contain_text("No case has")
    tries(tablet, own)
    lock.is_open(tablet.page)
    lock.locks(tablet.page)
    tries(tablet, wrong)
    expect(tablet.page.locator("#code-problem")).to_contain_text("No case has")
    tries(tablet, theirs)
    expect(tablet.page.locator("#code-problem")).to_contain_text("No case has")
    # Nobody is kept from writing to it: under a new code, and without what was before.
    again = tablet.page.locator("[data-act=go-on]").last
    again.click()
    lock.is_open(tablet.page)
    assert TYPED not in tablet.page.content()
    tablet.types("Given name", LATER)
    tablet.keeps("patient.given_name", LATER)


def test_what_is_no_code_is_said_so_and_costs_no_try(tablet):
    begins(tablet, TYPED)
    lock.locks(tablet.page)
    for typed in ("", "12", "12a4"):
        tries(tablet, typed)
        expect(tablet.page.locator("#code-problem")).to_have_text(
            "A case code has 4 digits."
        )


def test_after_a_kill_it_is_written_to_and_not_read_and_the_desk_has_it_all(
    tablet, desk
):
    begins(tablet, TYPED)
    record, told = tablet.record, set(tablet.fold()["order"])
    tablet.browser.kill()
    opens(tablet)
    expect(tablet.page.locator("#by-code")).to_be_hidden()
    again = tablet.page.locator(f"[data-act=go-on][data-record='{record}']")
    expect(again).to_contain_text("Go on writing")
    again.click()
    lock.is_open(tablet.page)
    strip = tablet.page.locator("#case-strip")
    expect(strip).not_to_contain_text(TYPED)
    expect(tablet.page.locator(PLACE)).to_have_text(re.compile(r"opens again\d{4}"))
    tablet.types("Given name", LATER)
    tablet.keeps("patient.given_name", LATER)
    more = set(tablet.fold()["order"])
    assert tablet.record == record
    assert more.isdisjoint(told)
    tablet.page.locator("[data-act=storage]:visible").click()
    expect(tablet.page.get_by_role("dialog")).to_contain_text(
        f"{len(told)} entries made before the browser ended cannot be read here"
    )
    tablet.page.keyboard.press("Escape")
    lock.locks(tablet.page)
    shows_nothing(tablet)
    desk.live.start()
    expect(tablet.page.locator("#stands")).to_contain_text("On the server")
    assert {row["id"] for row in entries(desk.db, record)} == told | more
    values = desk.reads(record).case.fold["values"]
    assert values["patient.family_name"][0]["value"] == TYPED
    assert values["patient.given_name"][0]["value"] == LATER
    # The server has read them; what it writes beside its database names nobody.
    desk.live.stop()
    files = [one for one in desk.live.home.rglob("*.log*") if one.is_file()]
    assert desk.live.home / "server.log" in files
    for file in files:
        told = file.read_bytes()
        assert [n for n in (OWN, TYPED, LATER) if n.encode() in told] == [], file.name


def test_whoever_unlocks_after_a_kill_may_ask_the_server_for_it(tablet, desk):
    begins(tablet, ASKED)
    record = tablet.record
    tablet.browser.kill()
    opens(tablet)
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    tablet.goes_home()
    row = tablet.page.locator(f".cases-away-row[data-record='{record}']")
    # The case may run still: it is gone on with here as from the lock.
    row.locator("[data-act=go-on]").click()
    tablet.types("Given name", LATER)
    tablet.keeps("patient.given_name", LATER)
    expect(tablet.page.locator("#case-strip")).to_contain_text(
        "earlier entries not readable here"
    )
    tablet.goes_home()
    expect(row).to_contain_text("Begun without unlocking")
    expect(row).to_contain_text("does not have all of it yet")
    assert ASKED not in tablet.page.content()
    desk.live.start()
    expect(row).to_contain_text("The server has all of it.")
    row.locator("[data-act=ask-for]").click()
    expect(tablet.page.locator(f".cases-row[data-record='{record}']")).to_contain_text(
        ASKED
    )
    expect(row).to_have_count(0)


def test_a_worker_that_the_browser_ended_is_given_back_what_is_open(tablet):
    """As on a tablet whose screen went dark: the page is there still."""
    code = begins(tablet, TYPED)
    session = tablet.browser.context.new_cdp_session(tablet.page)
    session.send("ServiceWorker.enable")
    session.send("ServiceWorker.stopAllWorkers")
    tablet.types("Given name", LATER)
    expect(tablet.page.locator("#kept")).to_contain_text(LATER)
    lock.locks(tablet.page)
    shows_nothing(tablet)
    tries(tablet, code)
    lock.is_open(tablet.page)
    expect(tablet.page.locator("#case-strip")).to_contain_text(TYPED)


def test_a_finished_case_opens_by_no_code(tablet):
    code, record = begins(tablet, TYPED), tablet.record
    tablet.goes_to("Finish")
    tablet.page.locator("[data-act=finish]").click()
    tablet.goes_home()
    expect(tablet.page.locator("#cases")).to_contain_text("Finished")
    lock.locks(tablet.page)
    # Another one, so that there is a code to try.
    begins(tablet, LATER)
    lock.locks(tablet.page)
    tries(tablet, code)
    expect(tablet.page.locator("#code-problem")).to_contain_text("No case has this")
    assert record not in tablet.page.locator("#lost").inner_html()
    # It is not lost with its code: whoever unlocks the tablet has it.
    lock.unlocks(tablet.page)
    lock.is_open(tablet.page)
    tablet.goes_home()
    expect(tablet.page.locator(f".cases-row[data-record='{record}']")).to_contain_text(
        TYPED
    )


def test_the_profile_of_a_tablet_with_such_a_case_tells_nothing_of_it(tablet):
    begins(tablet, TYPED)
    box = tablet.field("Given name").get_by_role("textbox", name="Given name")
    box.press_sequentially(LATER)
    lock.locks(tablet.page)
    tablet.browser.close()
    assert found_in(tablet.browser.profile, [OWN, TYPED, LATER]) == set()
    assert found_in(tablet.browser.profile, [lock.NAME]) == {lock.NAME}


def test_who_writes_is_said_as_typed_or_not_at_all(tablet, desk):
    begins(tablet, TYPED)
    tablet.is_now("M. Sogn-Example", "nurse")
    tablet.types("Given name", LATER)
    tablet.keeps("patient.given_name", LATER)
    record = tablet.record
    lock.locks(tablet.page)
    desk.live.start()
    expect(tablet.page.locator("#stands")).to_contain_text("On the server")
    bodies = [decode_body(one.body) for one in desk.reads(record).counted]
    said = {one["path"]: (one["how"], one["author"]["name"]) for one in bodies}
    assert said["patient.family_name"] == ("none", "")
    assert said["patient.given_name"] == ("typed", "M. Sogn-Example")


def signs_in(tablet: Bedside, password: str) -> None:
    page = tablet.page
    if not page.locator("#by-server").is_visible():
        page.locator("[data-way=server]:visible").click()
    page.get_by_label("Sign-in name").fill(SIGNER.login)
    page.get_by_label("Password", exact=True).fill(password)
    page.get_by_role("button", name="Sign in", exact=True).click()


def test_whoever_signs_in_at_the_server_unlocks_it_and_needs_no_passphrase(
    tablet, desk
):
    problem = tablet.page.locator("#server-problem")
    signs_in(tablet, PASSWORD)
    expect(problem).to_contain_text("No answer from the server")
    desk.live.start()
    signs_in(tablet, "not the password 1")
    expect(problem).to_contain_text("do not go together")
    # What was typed does not wait there for somebody else's tap.
    expect(tablet.page.get_by_label("Password", exact=True)).to_have_value("")
    signs_in(tablet, PASSWORD)
    lock.is_open(tablet.page)
    tablet.goes_home()
    expect(tablet.page.locator("#cases")).to_contain_text(OWN)
    expect(tablet.page.locator("#start-strip .who-name")).to_have_text(SIGNER.name)
    tablet.browser.problems.clear()


def test_a_tablet_that_no_server_knows_says_that_it_could_keep_nothing(
    standing, shared_browser
):
    made = lock.closed_tablet(shared_browser, standing.url, OWN)
    made.page.goto(made.address)
    made.is_open()
    lock.locks(made.page)
    made.page.locator("#start-now").click()
    expect(made.page.locator("#now-problem")).to_contain_text("not enrolled")
    lock.is_locked(made.page)
