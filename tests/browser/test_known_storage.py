"""Known failures of a browser's storage, each tried at the screen a person sees."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.support.bedside import Bedside

BROKEN = {
    "missing": "Object.defineProperty(globalThis, 'indexedDB', { value: undefined });",
    "refused": """IDBFactory.prototype.open = () => {
      throw new DOMException("", "SecurityError");
    };""",
}
# Every put and add fails, as after the storage process died.
NO_WRITE = """() => {
  window.kept = 0;
  for (const name of ["put", "add"]) IDBObjectStore.prototype[name] = () => {
    throw new DOMException("", "UnknownError");
  };
  const strip = document.querySelector("#kept");
  new MutationObserver(() => { window.kept += strip.dataset.state === "kept"; })
    .observe(strip, { attributes: true, childList: true, subtree: true });
}"""
# Reloads in the very task in which the receipt says "kept".
RELOAD_WHEN_KEPT = """([path, code]) => {
  const strip = document.querySelector("#kept");
  strip.removeAttribute("data-state");
  new MutationObserver(() => strip.dataset.state === "kept" && location.reload())
    .observe(strip, { attributes: true, childList: true, subtree: true });
  document.querySelector(`.part:not([hidden]) [data-path="${path}"] input[value="${code}"]`).click();
}"""
# A window of the build before: holds the database and hears of no newer version.
DEAF_WINDOW = """() => new Promise((resolve) => {
  const request = indexedDB.open("wiremark");
  request.onsuccess = () => { window.deaf = request.result; resolve(); };
})"""


@pytest.mark.parametrize("how", BROKEN)
def test_a_browser_that_keeps_nothing_takes_no_entry_and_says_why(
    browser, standing, how
):
    browser.context.add_init_script(BROKEN[how])
    page = browser.opens(f"{standing.url}/tablet/")
    expect(page.locator("#boot")).to_contain_text("This browser cannot keep entries")
    expect(page.locator("#start")).to_be_hidden()
    expect(page.locator("#case")).to_be_hidden()


def test_nothing_is_called_kept_while_no_write_gets_through(bedside):
    bedside.starts_new()
    bedside.goes_to("Indication")
    bedside.adds("Drug given")
    bedside.types("Dose", "0.5")
    bedside.keeps_row()
    page = bedside.page
    page.evaluate(NO_WRITE)
    alert = page.get_by_role("alert").filter(has_text="NOT kept")

    def is_refused() -> None:
        expect(alert).to_be_visible()
        page.evaluate(
            "() => document.querySelector('#kept').removeAttribute('data-state')"
        )

    bedside.picks("Compromise", "Shock")
    is_refused()
    bedside.types("Why now", "fainted twice")
    is_refused()
    expect(bedside.field("Why now").locator("textarea")).to_have_value("fainted twice")
    group = bedside.field("Drug given")
    group.locator("[data-act='strike']").click()
    group.locator("[data-act='strike-now']").click()
    is_refused()
    expect(group.locator(".row-strike")).to_be_visible()
    bedside.adds("Drug given")
    bedside.types("Dose", "1.0")
    page.locator("#sheet").get_by_role("button", name="Keep", exact=True).click()
    is_refused()
    expect(page.locator("#sheet")).to_be_visible()
    page.locator("#sheet").get_by_role("button", name="Discard").click()
    bedside.goes_to("Finish")
    page.get_by_role("button", name="Case finished").click()
    is_refused()
    expect(page.get_by_role("button", name="Open again")).to_have_count(0)
    assert page.evaluate("window.kept") == 0
    bedside.browser.problems.clear()
    bedside.reloads()


def test_a_reload_as_soon_as_it_says_kept_loses_no_answer(bedside):
    bedside.starts_new()
    before = len(bedside.fold()["order"])
    for turn in range(12):
        with bedside.page.expect_navigation():
            code = ("female", "male")[turn % 2]
            bedside.page.evaluate(RELOAD_WHEN_KEPT, ["patient.sex", code])
        bedside.is_open()
        bedside.keeps("patient.sex", code)
    assert len(bedside.fold()["order"]) == before + 12


def test_an_older_window_in_the_way_is_told_on_the_screen_and_waited_for(
    browser, standing
):
    first = Bedside(browser, standing.url)
    first.page.evaluate("() => {}")
    first.page.close()
    old = browser.opens(f"{standing.url}/static/js/types.js")
    old.evaluate(DEAF_WINDOW)

    def newer(route) -> None:
        answer = route.fetch()
        text = answer.text()
        assert "version = STEPS.length" in text
        step = text.replace("version = STEPS.length", "version = STEPS.length + 1")
        route.fulfill(response=answer, body=step)

    browser.context.route("**/tablet/tablet.js", newer)
    page = browser.context.new_page()
    # The worker of the first visit holds the older script: this one comes from the server.
    page.goto(f"{standing.url}/static/js/types.js")
    page.evaluate("""async () => {
      const found = await navigator.serviceWorker.getRegistration("/tablet/");
      await found?.unregister();
    }""")
    page.goto(f"{standing.url}/tablet/")
    expect(page.locator("#boot")).to_contain_text(
        "Another Wiremark window is older. Close it, and this one goes on."
    )
    old.close()
    expect(page.locator("#boot")).to_have_count(0)
    expect(page.locator("#start")).to_be_visible()
