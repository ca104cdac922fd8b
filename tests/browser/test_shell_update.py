"""A newer form comes whole, once, with consent, and never while a case is running."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.support.bedside import Bedside
from tests.support.browser import wait_until
from tests.support.releases import (
    CACHED,
    READINESS,
    READY,
    REGISTERED,
    SPARE,
    SPARES,
    WATCH_UPDATE,
    copied,
    looks_for_update,
    publish,
)

ENROL = "/tablet/enrol"
NOT_HAD = "The newer form could not be fetched whole. The one that is here goes on."
SETTLED = f"!{REGISTERED}.installing && !{REGISTERED}.waiting"
# A case whose only entry was made some hours ago.
BEGUN_AGO = """async (hours) => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore({ now: () => Date.now() - hours * 3600000 });
  const author = { person: null, name: "K. Ouse-Example", role: "nurse" };
  const path = "patient.family_name";
  await store.append(store.newRecord(), { path, value: "ALDERMERE", author });
  store.close();
}"""
# A page older than the question whether a newer version may come.
DEAF = """navigator.serviceWorker?.addEventListener("message", (event) =>
  event.stopImmediatePropagation());"""


@pytest.fixture
def releases(shell, site, tmp_path):
    """A server run from a copy of the product, of which a new version can be made."""
    server = shell.at_its_address(copied(site.home, tmp_path / "copy")).start()
    yield server
    server.stop()


def opens(browser, live, path: str = ENROL) -> Page:
    page = browser.opens(f"{live.url}{path}")
    wait_until(page, READY)
    wait_until(page, "navigator.serviceWorker.controller !== null")
    return page


@pytest.fixture
def tablet(browser, releases) -> Bedside:
    """The tablet on Start, ready without network."""
    made = Bedside(browser, releases.url)
    made.can_do_without_server()
    return made


def version(page: Page) -> str:
    return str(page.evaluate(READINESS)["version"])


def offer(tablet: Bedside):
    return tablet.page.get_by_role("button", name="Newer form")


def counts_loads(page: Page) -> None:
    page.add_init_script("sessionStorage.loads = Number(sessionStorage.loads ?? 0) + 1")


def loads(page: Page) -> int:
    return int(page.evaluate("Number(sessionStorage.loads ?? 0)"))


def test_a_newer_version_is_had_whole_on_consent_and_loads_once(releases, browser):
    page = opens(browser, releases)
    page.evaluate(WATCH_UPDATE)
    before = version(page)
    page.get_by_label("Code").fill("half ty")
    publish(releases, "second")
    looks_for_update(page)
    wait_until(page, "window.apply !== undefined")
    wait_until(page, SETTLED)
    assert version(page) == before
    assert page.get_by_label("Code").input_value() == "half ty"
    assert {e["name"] for e in page.evaluate(CACHED)} == {f"wiremark-shell-{before}"}
    counts_loads(page)
    with page.expect_navigation():
        page.evaluate("void window.apply()")
    wait_until(page, READY)
    after = version(page)
    assert after != before
    assert {e["name"] for e in page.evaluate(CACHED)} == {f"wiremark-shell-{after}"}
    assert page.evaluate(SPARES) == ["// second\n"]
    assert loads(page) == 1


def test_the_key_on_start_brings_the_newer_form(tablet, releases):
    before = version(tablet.page)
    publish(releases, "by key")
    looks_for_update(tablet.page)
    counts_loads(tablet.page)
    with tablet.page.expect_navigation():
        offer(tablet).click()
    tablet.is_open()
    assert version(tablet.page) != before
    assert loads(tablet.page) == 1
    expect(offer(tablet)).to_have_count(0)


def test_it_is_not_offered_while_a_case_is_running(tablet, releases):
    tablet.starts_now()
    publish(releases, "in a case")
    looks_for_update(tablet.page)
    wait_until(tablet.page, SETTLED)
    tablet.goes_home()
    expect(tablet.page.locator(".cases-row")).to_have_count(1)
    expect(offer(tablet)).to_have_count(0)
    tablet.page.locator(".cases-row a").first.click()
    tablet.goes_to("Finish")
    tablet.page.get_by_role("button", name="Case finished").click()
    expect(tablet.page.get_by_role("button", name="Open again")).to_be_visible()
    tablet.goes_home()
    expect(offer(tablet)).to_be_visible()


@pytest.mark.parametrize(("hours", "offered"), [(1.9, 0), (2.1, 1)])
def test_a_case_left_unfinished_runs_for_two_hours_after_its_last_entry(
    tablet, releases, hours, offered
):
    tablet.page.evaluate(BEGUN_AGO, hours)
    expect(tablet.page.locator(".cases-row")).to_have_count(1)
    publish(releases, "hours later")
    looks_for_update(tablet.page)
    wait_until(tablet.page, SETTLED)
    tablet.page.evaluate("dispatchEvent(new Event('resize'))")
    expect(tablet.page.locator(".cases-row")).to_contain_text("ALDERMERE")
    expect(offer(tablet)).to_have_count(offered)


def test_a_case_begun_in_another_window_since_holds_it_up_at_the_tap(tablet, releases):
    before = version(tablet.page)
    publish(releases, "since")
    looks_for_update(tablet.page)
    expect(offer(tablet)).to_be_visible()
    # What another window wrote is not yet drawn here when the key is tapped.
    tablet.page.evaluate(
        f"""async () => {{
          const drawn = document.querySelector("[data-act='update']");
          await ({BEGUN_AGO})(0);
          drawn.click();
        }}"""
    )
    expect(offer(tablet)).to_have_count(0)
    wait_until(tablet.page, SETTLED)
    assert version(tablet.page) == before


def test_a_browser_killed_in_a_case_starts_again_with_the_same_form(
    tablet, releases, browser
):
    before = version(tablet.page)
    # It was there before the case began, and nobody had asked for it.
    publish(releases, "before the case")
    looks_for_update(tablet.page)
    expect(offer(tablet)).to_be_visible()
    tablet.starts_now()
    tablet.types("Family name", "ALDERMERE")
    tablet.says("Family name", "kept")
    browser.kill()
    again = Bedside(browser, releases.url)
    wait_until(again.page, READY)
    wait_until(again.page, SETTLED)
    again.reloads()
    assert version(again.page) == before
    expect(again.page.locator(".cases-row")).to_contain_text("ALDERMERE")
    expect(offer(again)).to_have_count(0)


def test_a_server_that_is_away_at_the_tap_is_told_and_the_old_form_goes_on(
    tablet, releases
):
    before = version(tablet.page)
    publish(releases, "away")
    looks_for_update(tablet.page)
    expect(offer(tablet)).to_be_visible()
    releases.stop()
    offer(tablet).click()
    expect(tablet.page.locator("#start-alert")).to_have_text(NOT_HAD)
    assert version(tablet.page) == before
    tablet.reloads()
    tablet.starts_now()


def test_a_file_missing_from_the_newer_version_leaves_the_old_one_whole(
    releases, browser
):
    page = opens(browser, releases)
    page.evaluate(WATCH_UPDATE)
    before = page.evaluate(CACHED)
    publish(releases, "third")
    browser.context.route(f"**{SPARE}", lambda route: route.fulfill(status=404))
    looks_for_update(page)
    wait_until(page, "window.apply !== undefined")
    assert page.evaluate("window.apply()") is False
    wait_until(page, SETTLED)
    assert page.evaluate(CACHED) == before
    assert page.evaluate(READINESS)["ready"] is True


def test_an_open_case_goes_on_whole_while_a_newer_version_is_published(
    tablet, releases
):
    tablet.starts_new()
    kept = tablet.page.evaluate(f"async () => (await fetch('{SPARE}')).text()")
    box = tablet.field("Given name").get_by_role("textbox", name="Given name")
    box.press_sequentially("Test-In")
    counts_loads(tablet.page)
    publish(releases, "under an open form")
    looks_for_update(tablet.page)
    wait_until(tablet.page, SETTLED)
    expect(box).to_have_value("Test-In")
    box.press_sequentially("es")
    # Each part's form is read when it is first shown.
    for part in ("Indication", "Consent", "Approach", "Advance", "Capture", "Finish"):
        tablet.goes_to(part)
    tablet.keeps("patient.given_name", "Test-Ines")
    still = tablet.page.evaluate(f"async () => (await fetch('{SPARE}')).text()")
    assert still == kept
    assert loads(tablet.page) == 0


def test_two_versions_behind_one_address_never_load_the_page_by_themselves(
    tablet, releases
):
    counts_loads(tablet.page)
    before = version(tablet.page)
    tablet.starts_new()
    for mark in ("one", "other", "one", "other"):
        publish(releases, mark)
        looks_for_update(tablet.page)
        wait_until(tablet.page, SETTLED)
    assert loads(tablet.page) == 0
    assert version(tablet.page) == before


def test_an_older_page_lets_a_newer_version_wait_and_offers_it_itself(
    releases, browser
):
    browser.context.add_init_script(DEAF)
    page = opens(browser, releases)
    page.evaluate(WATCH_UPDATE)
    before = version(page)
    publish(releases, "waits")
    looks_for_update(page)
    wait_until(page, f"{REGISTERED}.waiting !== null")
    wait_until(page, "window.apply !== undefined")
    assert version(page) == before
    for message in ("'update'", "null", "{type: 'nonsense'}", "{}"):
        page.evaluate(f"async () => {REGISTERED}.waiting.postMessage({message})")
    assert version(page) == before
    with page.expect_navigation():
        page.evaluate("void window.apply()")
    wait_until(page, READY)
    assert version(page) != before


def test_caches_of_others_are_left_alone_by_a_new_version(releases, browser):
    page = opens(browser, releases)
    page.evaluate("() => caches.open('somebody-else')")
    page.evaluate("() => caches.open('wiremark-shell-of-long-ago')")
    page.evaluate(WATCH_UPDATE)
    publish(releases, "fifth")
    looks_for_update(page)
    wait_until(page, "window.apply !== undefined")
    with page.expect_navigation():
        page.evaluate("void window.apply()")
    wait_until(page, READY)
    names = page.evaluate("() => caches.keys()")
    assert sorted(names) == ["somebody-else", f"wiremark-shell-{version(page)}"]


def test_a_browser_s_own_cache_never_fills_a_new_version_with_old_bytes(
    releases, browser
):
    # Every file may be kept by the browser for a month.
    def for_long(route) -> None:
        answer = route.fetch()
        month = {**answer.headers, "cache-control": "max-age=2678400"}
        route.fulfill(response=answer, headers=month)

    browser.context.route(f"**{SPARE}", for_long)
    page = opens(browser, releases)
    page.evaluate(WATCH_UPDATE)
    page.evaluate(f"async () => (await fetch('{SPARE}', {{ cache: 'reload' }})).text()")
    publish(releases, "sixth")
    looks_for_update(page)
    wait_until(page, "window.apply !== undefined")
    with page.expect_navigation():
        page.evaluate("void window.apply()")
    wait_until(page, READY)
    assert page.evaluate(SPARES) == ["// sixth\n"]


def test_files_of_a_newer_version_never_fill_up_an_older_one(releases, browser):
    page = opens(browser, releases)
    before = page.evaluate(SPARES)
    publish(releases, "seventh")
    lost = page.evaluate("""async () => {
      const [name] = await caches.keys();
      await (await caches.open(name)).delete("/tablet/enrol");
      return (await import("/static/js/sw-bridge.js")).readiness();
    }""")
    assert (lost["ready"], lost["missing"]) == (False, [ENROL])
    with page.expect_event("requestfinished"):
        page.evaluate("fetch('/catalogue.json', { cache: 'reload' })")
    assert page.evaluate(SPARES) == before
    assert page.evaluate(READINESS)["missing"] == [ENROL]
