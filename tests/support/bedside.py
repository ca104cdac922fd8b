"""The tablet's screens as a person uses them: by role and label, never by position."""

from __future__ import annotations

import json
import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.support.browser import Browser, wait_until
from tests.support.releases import READY

OF_AUDIT = "Applying inline style violates"
WHO_NOW = ".switch .switch-now"
# The machine may be busy; a screen that never says it is what fails.
expect.set_options(timeout=20_000)
_FOLD = """async (record) => {
  const { openStore } = await import("/static/js/log/store.js");
  const { heldKey: dataKey } = await import("/static/js/sw-vault.js");
  const { byCode } = await import("/static/js/sw-codes.js");
  const store = await openStore({ dataKey, byCode });
  const fold = await store.fold(record);
  store.close();
  return fold;
}"""
# An entry of somebody who had seen nothing of this path, as from another tablet.
_UNSEEN = """async ([record, path, value, name]) => {
  const { openStore } = await import("/static/js/log/store.js");
  const { heldKey: dataKey } = await import("/static/js/sw-vault.js");
  const store = await openStore({ dataKey });
  const author = { person: null, name, role: "nurse" };
  await store.append(record, { path, value, seen: [], author });
  store.close();
}"""


class Bedside:
    """One page of the tablet. Its verbs wait until the screen says what they did."""

    def __init__(self, browser: Browser, url: str) -> None:
        self.browser = browser
        self.failed: list[str] = []
        self.is_audited = False
        browser.context.on("response", self._note)
        self.page: Page = browser.opens(f"{url}/tablet/")
        # Whoever goes from one running case to another sees who it is, and taps.
        self.page.add_locator_handler(self.page.locator(WHO_NOW), self._goes_on)
        self.is_open()

    def _note(self, response: Any) -> None:
        if response.status >= 400 and not response.url.endswith("/sync"):
            self.failed.append(f"{response.status} {response.url}")

    def _goes_on(self, who: Locator) -> None:
        who.click()

    def is_open(self) -> None:
        """Wait until the log is open and the screen drawn."""
        expect(self.page.locator("#boot")).to_have_count(0)

    @property
    def problems(self) -> list[str]:
        """What the console told as an error, and what was thrown.

        What an audit's own inline styles made the policy refuse is not the page's.
        """
        told = self.browser.problems
        return [p for p in told if not (self.is_audited and OF_AUDIT in p)]

    def goes_home(self) -> None:
        """Go to Start, and leave the case as it is."""
        self.page.evaluate("location.hash = '#/'")
        expect(self.page.locator("#start")).to_be_visible()

    def can_do_without_server(self) -> None:
        """Wait until every file is here and this page has its worker: the server may go."""
        self.waits_for(f"navigator.serviceWorker.controller !== null && {READY}")

    def reloads(self) -> None:
        """Load the page again, as after closing and opening the tablet."""
        self.page.reload()
        self.is_open()

    # -- Start ---------------------------------------------------------------
    def starts_now(self) -> None:
        """Tap the key that needs no name."""
        self.page.get_by_role("button", name="Start now, no name").click()
        expect(
            self.page.get_by_role("heading", name="Patient", exact=True)
        ).to_be_visible()

    def starts_new(self) -> None:
        """Tap "New case"."""
        self.page.get_by_role("button", name="New case").click()
        expect(
            self.page.get_by_role("heading", name="Patient", exact=True)
        ).to_be_visible()

    def is_now(self, name: str, role: str = "assistant") -> None:
        """Say who is at the tablet; in a case, or on Start."""
        self.page.locator("[data-act='who']:visible").click()
        sheet = self.page.get_by_role("dialog", name="Who is here")
        sheet.get_by_label("At this tablet: name").fill(name)
        sheet.get_by_label("At this tablet: role").fill(role)
        sheet.get_by_role("button", name="These from now on").click()
        expect(sheet).to_be_hidden()

    # -- Parts ---------------------------------------------------------------
    @property
    def record(self) -> str:
        """The id of the open case."""
        found = re.search(r"#/case/([0-9a-f-]{36})", self.page.url)
        assert found, self.page.url
        return found[1]

    def goes_to(self, part: str) -> None:
        """Open a part from the rail, and its fields."""
        picker = self.page.locator(".rail-picker")
        if picker.is_visible():
            picker.click()
        stop = self.page.get_by_role(
            "navigation", name="Parts of the case"
        ).get_by_role("link", name=re.compile(f"^{part}"))
        name = stop.get_attribute("data-part")
        stop.click()
        self.shows_fields(str(name))
        expect(
            self.page.get_by_role("heading", name=part, exact=True, level=2)
        ).to_be_visible()

    def shows_fields(self, name: str) -> None:
        """Show the fields of the part just gone to; a live part opens without them."""
        expect(self.page.locator("#case")).to_be_visible()
        expect(self.page.locator(f"#part-{name}:not([hidden])")).to_have_count(1)
        to_fields = self.page.locator("[data-act=view-fields]")
        if to_fields.is_visible():
            to_fields.click()
        expect(self.page.locator("#work")).to_have_attribute("data-view", "fields")

    def field(self, label: str) -> Locator:
        """The one visible field, or group of rows, with this label."""
        within = self.page.locator(".sheet:visible, .part:visible").last
        return within.get_by_role("group", name=label, exact=True)

    # -- Answers -------------------------------------------------------------
    def picks(self, label: str, *choices: str) -> None:
        """Tap one or more choices of a field."""
        for choice in choices:
            box = self.field(label).get_by_label(choice, exact=True)
            self._tap(box)

    def types(self, label: str, text: str, unit: str = "") -> None:
        """Type into a field and leave it."""
        field = self.field(label)
        if unit:
            field.get_by_role("combobox").select_option(label=unit)
        field.get_by_role("textbox", name=label, exact=True).fill(text)
        self.leaves(field)

    def gives_no_answer(self, label: str, how: str, because: str = "") -> None:
        """Say "not known", "not done, because", "not stated by" or "not asked"."""
        field = self.field(label)
        if how == "not known":
            self._tap(field.get_by_role("radio", name="not known"))
            return
        field.get_by_role("button", name=f"{label}: no answer, who and when").click()
        if how == "not stated by":
            box = field.locator(".absence-not-stated-by")
            box.fill(because)
        elif how == "not done":
            self._tap(field.get_by_role("radio", name="not done, because"))
            box = field.locator(".absence-because")
            box.fill(because)
        else:
            self._tap(field.get_by_role("radio", name="not asked"))
            return
        self.leaves(field)
        self.page.mouse.click(640, 4)

    def leaves(self, field: Locator) -> None:
        """Move the focus out of a field."""
        field.evaluate(
            "(root) => root.contains(document.activeElement) && document.activeElement.blur()"
        )

    def _tap(self, box: Locator) -> None:
        """Tap a key whose radio or checkbox covers it; twice quickly is a tremble."""
        box.click()

    def says(self, label: str, text: str | re.Pattern[str]) -> None:
        """Wait until the line under a field's name says this."""
        expect(self.field(label).locator(".field-said").first).to_contain_text(text)

    def stamps(self, label: str, key: str = "now") -> None:
        """Tap "now", or "2 min ago"."""
        self.field(label).get_by_role("button", name=key, exact=True).click()

    def times(
        self, label: str, day: str = "", time: str = "", about: bool = False
    ) -> None:
        """Type a day and a time, and leave."""
        field = self.field(label)
        field.locator(".moment-day").fill(day)
        field.locator(".moment-time").fill(time)
        if about:
            field.get_by_role("radio", name="about").click()
        self.leaves(field)

    def draws(self, label: str, *points: tuple[int, int]) -> None:
        """Draw one stroke; points in pixels from the drawing's corner."""
        canvas = self.field(label).locator("canvas")
        canvas.scroll_into_view_if_needed()
        box = canvas.bounding_box()
        assert box is not None
        mouse = self.page.mouse
        mouse.move(box["x"] + points[0][0], box["y"] + points[0][1])
        mouse.down()
        for x, y in points[1:]:
            mouse.move(box["x"] + x, box["y"] + y)
        mouse.up()

    def photographs(self, label: str, name: str, picture: bytes) -> None:
        """Choose a picture, as the camera hands it over."""
        file = {"name": name, "mimeType": "image/png", "buffer": picture}
        self.field(label).locator(".photo-file").set_input_files(file)  # type: ignore[arg-type]

    def somebody_else_says(self, path: str, value: Any, name: str) -> None:
        """Enter an answer by somebody who has seen none before it."""
        self.page.evaluate(_UNSEEN, [self.record, path, value, name])

    # -- Rows ----------------------------------------------------------------
    def adds(self, label: str, within: Locator | None = None) -> None:
        """Open the form of a new row."""
        place = within or self.field(label)
        place.get_by_role("button", name=f"Add: {label}", exact=True).first.click()
        expect(self.page.get_by_role("dialog", name=label)).to_be_visible()

    def keeps_row(self) -> None:
        """Keep the row being told."""
        sheet = self.page.locator("#sheet")
        sheet.get_by_role("button", name="Keep", exact=True).click()
        expect(sheet).to_be_hidden()

    # -- What is kept --------------------------------------------------------
    def fold(self) -> dict[str, Any]:
        """What the tablet's own log says of the open case."""
        told: dict[str, Any] = self.page.evaluate(_FOLD, self.record)
        return told

    def value(self, path: str) -> Any:
        """The one value of a path; a list of heads when there are two."""
        heads = self.fold()["values"].get(path, [])
        return heads[0]["value"] if len(heads) == 1 else [h["value"] for h in heads]

    def rows(self, path: str) -> list[dict[str, Any]]:
        """The rows of a group, struck ones included."""
        return self.fold()["rows"].get(path, [])

    def keeps(self, path: str, value: Any) -> None:
        """Wait until the tablet's log holds this one answer."""
        self.waits_for(
            f"""(await (async () => {{
              const {{ openStore }} = await import("/static/js/log/store.js");
              const {{ heldKey: dataKey }} = await import("/static/js/sw-vault.js");
              const {{ byCode }} = await import("/static/js/sw-codes.js");
              const store = await openStore({{ dataKey, byCode }});
              const fold = await store.fold({json.dumps(self.record)});
              store.close();
              const heads = fold.values[{json.dumps(path)}] ?? [];
              return heads.length === 1 &&
                JSON.stringify(heads[0].value) === JSON.stringify({json.dumps(value)});
            }})())"""
        )

    def waits_for(self, condition: str) -> None:
        """Wait until a JavaScript expression holds in the page."""
        wait_until(self.page, condition)
