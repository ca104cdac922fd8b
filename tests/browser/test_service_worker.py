"""The tablet opens without a server, whole or not at all, and changes on consent."""

from __future__ import annotations

import pytest
from playwright.sync_api import Error, Page, expect

from tests.support.browser import wait_until
from tests.support.releases import (
    CACHED,
    READINESS,
    READY,
    REGISTERED,
    SPARE,
    WATCH_UPDATE,
    listed,
)
from tests.support.server import LiveServer
from tests.support.store_page import StorePage
from webapp.people import tablets

ENROL = "/tablet/enrol"
START_SYNC = """async () => {
  const { startSync } = await import("/static/js/sync/loop.js");
  window.sync = startSync(window.store);
}"""


def opens(browser, live, path: str = ENROL) -> Page:
    page = browser.opens(f"{live.url}{path}")
    wait_until(page, READY)
    wait_until(page, "navigator.serviceWorker.controller !== null")
    return page


def is_shell(page: Page) -> bool:
    return page.locator("#case, #boot").count() > 0


@pytest.fixture(scope="module")
def without_server(shell, tmp_path_factory):
    """A browser that has the shell, and the address of a server that is stopped."""
    server = LiveServer(tmp_path_factory.mktemp("home"))
    shell.at_its_address(server).start()
    browser = shell.browser(tmp_path_factory.mktemp("profile") / "kept")
    opens(browser, server).close()
    server.stop()
    yield browser, server.url
    browser.close()


def test_a_tablet_says_it_is_ready_once_every_file_is_there(standing, bare_browser):
    page = bare_browser.opens(f"{standing.url}{ENROL}")
    expect(page.locator(".enrol-ready")).to_have_text("Ready without network.")
    told = page.evaluate(READINESS)
    assert told["ready"] is True
    assert told["have"] == told["want"] == len(listed(page))
    assert told["missing"] == []
    assert sorted(entry["path"] for entry in page.evaluate(CACHED)) == sorted(
        listed(page)
    )


def test_every_kept_answer_is_our_own_whole_and_not_redirected(standing, bare_browser):
    page = opens(bare_browser, standing)
    for entry in page.evaluate(CACHED):
        assert entry["name"].startswith("wiremark-shell-")
        assert (entry["status"], entry["type"]) == (200, "basic"), entry
        assert entry["redirected"] is False


@pytest.mark.parametrize(
    "path",
    [
        "/tablet/",
        "/tablet/?source=home",
        "/tablet/?a=1&b=2#capture",
        "/tablet/any/deep/link?id=5",
        ENROL,
        f"{ENROL}?code=x",
    ],
)
def test_every_address_of_the_tablet_opens_without_a_server(without_server, path):
    browser, url = without_server
    page = browser.opens(f"{url}{path}")
    assert is_shell(page) is (not path.startswith(ENROL))
    page.reload()
    assert is_shell(page) is (not path.startswith(ENROL))
    page.close()


def test_the_manifest_s_start_address_opens_without_a_server(without_server):
    browser, url = without_server
    page = browser.opens(f"{url}{ENROL}")
    start = page.evaluate("""async () => {
      const answer = await fetch("/tablet/manifest.webmanifest");
      return (await answer.json()).start_url;
    }""")
    page.goto(f"{url}{start}")
    assert is_shell(page)
    page.close()


def test_a_page_outside_the_tablet_is_left_to_the_network(without_server):
    browser, url = without_server
    with pytest.raises(Error, match="ERR_CONNECTION_REFUSED"):
        browser.opens(f"{url}/sign-in")


def test_opening_without_a_server_is_timed_and_printed(without_server):
    browser, url = without_server
    page = browser.opens(f"{url}{ENROL}")
    took = page.evaluate("performance.getEntriesByType('navigation')[0].loadEventEnd")
    page.goto(f"{url}/tablet/")
    shell = page.evaluate("performance.getEntriesByType('navigation')[0].loadEventEnd")
    print(f"without a server: enrolment page {took:.0f} ms, shell {shell:.0f} ms")
    assert is_shell(page)
    page.close()


def test_a_tablet_whose_browser_was_killed_starts_without_a_server(live, browser):
    opens(browser, live)
    browser.kill()
    live.stop()
    assert is_shell(browser.opens(f"{live.url}/tablet/"))


@pytest.mark.parametrize("status", [404, 403, 500])
def test_one_file_that_is_not_there_and_the_tablet_says_it_is_not_ready(
    standing, bare_browser, status
):
    bare_browser.context.route(f"**{SPARE}", lambda route: route.fulfill(status=status))
    page = bare_browser.opens(f"{standing.url}{ENROL}")
    page.evaluate(WATCH_UPDATE)
    wait_until(page, f"!{REGISTERED}?.installing && !{REGISTERED}?.active")
    assert page.evaluate(READINESS)["ready"] is False
    assert page.evaluate(CACHED) == []
    assert "Ready" not in page.locator(".enrol-ready").inner_text()
    bare_browser.context.unroute(f"**{SPARE}")
    page.reload()
    wait_until(page, READY)


def test_a_file_that_redirects_is_never_kept(standing, bare_browser):
    redirect = {"status": 302, "headers": {"location": "/static/js/types.js"}}
    bare_browser.context.route(f"**{SPARE}", lambda route: route.fulfill(**redirect))
    page = bare_browser.opens(f"{standing.url}{ENROL}")
    page.evaluate(WATCH_UPDATE)
    wait_until(page, f"!{REGISTERED}?.installing && !{REGISTERED}?.active")
    assert page.evaluate(CACHED) == []


def test_a_cache_that_the_browser_took_away_is_told_and_filled_again(standing, browser):
    page = opens(browser, standing)
    lost = page.evaluate("""async () => {
      const [name] = await caches.keys();
      const cache = await caches.open(name);
      await cache.delete("/tablet/");
      return (await import("/static/js/sw-bridge.js")).readiness();
    }""")
    assert (lost["ready"], lost["missing"]) == (False, ["/tablet/"])
    wait_until(page, READY)


def test_no_answer_of_the_server_s_api_is_ever_kept(live, browser, db):
    page = opens(browser, live)
    enrol_by_hand(page, live, db)
    tablet = StorePage(page)
    page.evaluate(START_SYNC)
    tablet.appends(tablet.new_record(), "patient.family_name", "ALDERMERE")
    wait_until(page, "(await store.status()).onServer === 1")
    paths = {entry["path"] for entry in page.evaluate(CACHED)}
    assert paths == set(listed(page))
    assert not paths & {"/sync", "/tablet/person", "/sw.js"}


# What any kept answer says that only somebody signed in, or signing in, is shown.
SIGNED = """async () => {
  const found = [];
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const text = await (await cache.match(request)).text();
      if (/name="password"|csrf_token/.test(text)) found.push(request.url);
    }
  }
  return found;
}"""


def test_signing_in_and_out_at_the_desk_changes_nothing_for_the_tablet(
    live, bare_browser, db
):
    asked: list[str] = []
    bare_browser.context.on("request", lambda request: asked.append(request.url))
    page = opens(bare_browser, live, "/tablet/")
    enrol_by_hand(page, live, db)
    desk = bare_browser.opens(f"{live.url}/sign-in")
    # The lock's own fields have no name: they are never sent.
    expect(desk.locator("input[type='password'][name='password']")).to_have_count(1)
    desk.close()
    bare_browser.context.clear_cookies()
    page.reload()
    tablet = StorePage(page)
    tablet.appends(tablet.new_record(), "patient.family_name", "ALDERMERE")
    wait_until(page, "(await store.status()).onServer === 1", 60)
    assert page.evaluate(SIGNED) == []
    assert {url.split("/", 3)[2] for url in asked} == {live.url.split("/")[2]}
    live.stop()
    page.reload()
    assert is_shell(page)


def enrol_by_hand(page: Page, live, db) -> None:
    """Type a fresh code into the enrolment page, as a person does."""
    _, code = tablets.add(db, "tablet 1")
    page.goto(f"{live.url}{ENROL}")
    page.get_by_label("Code").fill(f"{code[:4].lower()}-{code[4:]}")
    page.get_by_role("button", name="Enrol").click()
    page.wait_for_url(f"{live.url}/tablet/")


def test_a_code_typed_once_enrols_and_the_page_says_so_ever_after(live, browser, db):
    page = opens(browser, live)
    enrol_by_hand(page, live, db)
    live.stop()
    page.goto(f"{live.url}{ENROL}")
    said = "This tablet is tablet 1 at Example Harbour Hospital."
    expect(page.locator(".enrol-state")).to_have_text(said)


def test_a_wrong_and_an_empty_code_are_told_beside_the_field(live, browser):
    page = opens(browser, live)
    problem = page.locator("#code-problem")
    page.get_by_role("button", name="Enrol").click()
    expect(problem).to_have_text("Type the code first.")
    page.get_by_label("Code").fill("ZZZZZZZZ")
    page.get_by_role("button", name="Enrol").click()
    expect(problem).to_have_text("This code is unknown, used or too old.")
    expect(page.get_by_label("Code")).to_have_attribute("aria-invalid", "true")
    live.stop()
    page.get_by_role("button", name="Enrol").click()
    expect(problem).to_have_text("No answer from the server. Enrolling needs it once.")


def test_the_whole_way_of_an_entry_with_the_server_stopped_in_between(
    live, browser, db
):
    page = opens(browser, live)
    enrol_by_hand(page, live, db)
    live.stop()
    page.reload()
    tablet = StorePage(page)
    record = tablet.new_record()
    kept = [
        tablet.appends(record, "patient.family_name", name)["id"]
        for name in ("ALDERMEER", "ALDERMERE")
    ]
    browser.kill()
    page = browser.opens(f"{live.url}/tablet/")
    tablet = StorePage(page)
    assert tablet.shows(record, "patient.family_name") == ["ALDERMERE"]
    assert tablet.status()["unsent"] == 2
    page.evaluate(START_SYNC)
    live.start()
    wait_until(page, "(await store.status()).unsent === 0", 90)
    assert [row["id"] for row in db.query("SELECT id FROM entry ORDER BY seq")] == kept
