"""axe-core and our own measures over every screen there is, in both themes.

One server, one browser, few loads. axe is asked at each size of the tablet, by turns in
each theme; the contrast of every text and key is measured in every theme at every size.
"""

import pytest
from playwright.sync_api import expect

from tests.support.browser import Browser, wait_until
from tests.support.cast import ADMINISTRATOR, CODER, PASSWORD, SIGNER, hashed_once
from tests.support.kept import filled_site
from tests.support.looking import (
    PARTS,
    SIZES,
    audit,
    clipped,
    covered,
    faint,
    findings,
    opens,
    shows,
    small_targets,
    tells,
    wider_than_screen,
)
from tests.support.scanner import Scanner
from tests.support.server import LiveServer
from webapp.db import connect
from webapp.people import accounts

THEMES = ("night", "dim", "day")
# What axe is asked in, size by size: a theme changes colours, a size what is shown.
ASKED = {"tablet": "night", "upright": "day", "phone": "night"}
DESK = {"width": 1440, "height": 900}
# Without "{record}" the address itself; with it, each record of the list is tried.
PLACES = {
    "test-ines": (
        "/records",
        "/records?q=nobody",
        "/records/{record}",
        "/records/{record}/entries",
        "/records/{record}/sign",
        "/records/{record}/answer?path=patient.weight",
        "/records/{record}/answer?path=patient.people",
        "/records/{record}/added",
        "/records/{record}/withdrawn",
        "/records/none-such",
        "/limits",
    ),
    "test-oda": ("/coding", "/coding/{record}"),
    "test-alf": ("/tablets", "/server", "/none-such"),
}
REFUSED = ("/none-such", "/records/none-such")


@pytest.fixture(scope="module")
def told(open_tablet):
    """A case with something in every part that draws."""
    open_tablet.goes_home()
    open_tablet.is_now("K. Ouse-Example", "nurse")
    open_tablet.starts_now()
    tells(open_tablet)
    return open_tablet


@pytest.fixture(params=SIZES)
def sized(told, request):
    """The told case on a screen of one size; ends with no error and no failed request."""
    told.browser.problems.clear()
    told.failed.clear()
    width, height = SIZES[request.param]
    told.theme = ASKED[request.param]
    told.page.set_viewport_size({"width": width, "height": height})
    yield told
    told.page.set_viewport_size({"width": 1280, "height": 800})
    assert told.problems == []
    assert told.failed == []


def turned(page, theme):
    """Show a page in a theme."""
    page.evaluate("(t) => { document.documentElement.dataset.theme = t; }", theme)


def looked_at(bedside, name, theme):
    """What axe finds on the tablet's screen, and what is faint in any theme."""
    found = []
    for one in THEMES:
        turned(bedside.page, one)
        found += [f"{name}, {one}: {what}" for what in faint(bedside.page)]
    turned(bedside.page, theme)
    found += [f"{name}, {theme}: {what}" for what in audit(bedside)]
    turned(bedside.page, "night")
    return found


def test_no_part_of_a_case_has_a_finding(sized):
    opens(sized)
    found = []
    for part in PARTS:
        shows(sized, part)
        found += looked_at(sized, part, sized.theme)
    assert found == []


def test_start_has_no_finding(sized):
    sized.goes_home()
    assert looked_at(sized, "start", sized.theme) == []
    assert wider_than_screen(sized.page) == []
    assert covered(sized.page) == []
    assert small_targets(sized.page, least_px=48) == []


def test_no_sheet_has_a_finding(sized):
    opens(sized)
    shows(sized, "indication")
    found = []
    page = sized.page
    sized.adds("Drug given")
    found += looked_at(sized, "row", sized.theme)
    page.get_by_role("button", name="Discard").click()
    for act in ("who", "storage", "moments"):
        page.locator(f"#case-strip [data-act='{act}']").click()
        expect(page.locator("#who-sheet")).to_be_visible()
        found += looked_at(sized, act, sized.theme)
        assert covered(page) == []
        page.keyboard.press("Escape")
        expect(page.locator("#who-sheet")).to_be_hidden()
    page.locator(".part:visible .more-key:visible").first.click()
    found += looked_at(sized, "more", sized.theme)
    page.keyboard.press("Escape")
    assert found == []


def remarks_are_open(page):
    page.locator("#remark [data-act='remarks']").click()


def a_number_has_its_keypad(page):
    page.locator(".part:visible .keypad-key:visible").first.click()


def the_paper_copy_is_open(page):
    page.locator(".finish [data-act='paper']").click()


def capture_was_lost(page):
    page.locator("[data-act=capture-lost]").click()


def the_time_out_is_read_aloud(page):
    page.locator(".part:visible [data-act=spoken]").click()


def another_band_was_read(page):
    Scanner(page).scans("00990001")


@pytest.mark.parametrize(
    ("part", "happens", "shown"),
    [
        ("capture", remarks_are_open, "#who-sheet"),
        ("patient", a_number_has_its_keypad, ".keypad"),
        ("finish", the_paper_copy_is_open, ".paper"),
        ("indication", capture_was_lost, "#card"),
        ("consent", the_time_out_is_read_aloud, "#who-sheet"),
        ("patient", another_band_was_read, "dialog.band"),
    ],
)
def test_what_lies_over_a_case_has_no_finding(sized, part, happens, shown):
    opens(sized)
    shows(sized, part)
    happens(sized.page)
    expect(sized.page.locator(shown)).to_be_visible()
    assert looked_at(sized, part, sized.theme) == []
    sized.page.keyboard.press("Escape")
    expect(sized.page.locator(f"{shown}:visible")).to_have_count(0)


@pytest.mark.parametrize("theme", ["dim", "day"])
def test_a_receipt_of_what_was_not_kept_can_be_read(told, theme):
    opens(told)
    turned(told.page, theme)
    told.page.evaluate(
        """async () => {
          const { receipts } = await import("/static/js/pages/tablet-receipt.js");
          receipts(document.querySelector("#kept"), () => "10:41")({
            state: "not_kept", label: "Depth", words: "34 cm, RV contact", ms: 0,
            because: "This tablet's disk is full.", act: "Try again", onAct: () => {},
          });
        }"""
    )
    assert faint(told.page) == []
    turned(told.page, "night")


@pytest.fixture(scope="module")
def desk(tmp_path_factory, playwright_here):
    """A site with one of everything, and a browser at its desk."""
    home = tmp_path_factory.mktemp("filled")
    site = filled_site(home)
    db = connect(site.database)
    accounts.add(db, ADMINISTRATOR, hashed_once)
    db.conn.close()
    server = LiveServer(home).start()
    browser = Browser(
        playwright_here, tmp_path_factory.mktemp("desk-profile"), viewport=DESK
    )
    page = browser.context.new_page()
    failed = []
    page.on("response", lambda r: r.status >= 400 and failed.append(r.url))
    page.failed, page.browser_problems, page.site = failed, browser.problems, server.url
    yield page
    browser.close()
    server.stop()


def desk_found(page, name, theme="day"):
    """What is found on a page of the desk: by axe in a theme, by measure in all."""
    found = []
    for one in THEMES:
        turned(page, one)
        found += [f"{name}, {one}: {what}" for what in faint(page)]
    turned(page, theme)
    found += [f"{name}, {theme}: {what}" for what in findings(page)]
    found += [f"{name} sticks out: {what}" for what in wider_than_screen(page)]
    found += [f"{name} cuts: {what}" for what in clipped(page)]
    found += [f"{name} covers: {what}" for what in covered(page)]
    return found


def records(page):
    """The addresses of the records in the list; the one with most entries first."""
    page.goto(f"{page.site}/records")
    links = page.locator(".records-list tbody th a")
    return links.evaluate_all("all => all.map((a) => a.getAttribute('href'))")


def signs_in(page, login):
    page.context.clear_cookies()
    page.goto(f"{page.site}/sign-in")
    page.locator("input[name=login]").fill(login)
    page.locator("input[name=password]").fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    expect(page.locator(".desk-mark")).to_be_visible()


@pytest.mark.parametrize("who", [SIGNER, CODER, ADMINISTRATOR], ids=lambda p: p.login)
def test_no_page_of_the_desk_has_a_finding(desk, who):
    signs_in(desk, SIGNER.login)
    record = records(desk)[0].removeprefix("/records/")
    signs_in(desk, who.login)
    desk.failed.clear()
    found = []
    for place in PLACES[who.login]:
        desk.goto(desk.site + place.format(record=record))
        found += desk_found(desk, place)
        if not place.startswith("/coding"):
            found += [f"{place} small: {o}" for o in small_keys(desk)]
    assert found == [], "\n".join(found)
    assert [f for f in desk.failed if not f.endswith(REFUSED)] == []


def small_keys(page):
    """Keys and fields of the desk below 44 px; links within text are text."""
    return [
        one
        for one in small_targets(page, least_px=44)
        if not one.startswith(("a.:", "a.skip:"))
    ]


def test_getting_in_and_enrolling_have_no_finding(desk):
    desk.context.clear_cookies()
    found = []
    for place in ("/sign-in", "/tablet/enrol", "/tablet/passphrase"):
        desk.goto(desk.site + place)
        found += desk_found(desk, place)
    desk.goto(f"{desk.site}/sign-in")
    desk.get_by_role("button", name="Sign in").click()
    expect(desk.locator(".ask-problem").first).to_be_visible()
    found += desk_found(desk, "sign-in, refused")
    assert found == []


@pytest.mark.parametrize("width", [1280, 390])
def test_the_style_page_has_no_finding(desk, width):
    desk.set_viewport_size({"width": width, "height": 844})
    desk.browser_problems.clear()
    desk.goto(f"{desk.site}/style")
    wait_until(desk, "'ready' in document.documentElement.dataset")
    problems = list(desk.browser_problems)
    found = desk_found(desk, "style", "night" if width == 390 else "day")
    desk.set_viewport_size(DESK)
    assert found == []
    assert problems == []
