"""The tablet's screens as a person uses them: by role and label, never by position."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.support.browser import Browser, wait_until


class Bedside:
    """One page of the tablet. Its verbs wait until the screen says what they did."""

    def __init__(self, browser: Browser, url: str) -> None:
        self.browser = browser
        self.failed: list[str] = []
        browser.context.on("response", self._note)
        self.page: Page = browser.opens(f"{url}/tablet/")
        self.is_open()

    def _note(self, response: Any) -> None:
        if response.status >= 400 and not response.url.endswith("/sync"):
            self.failed.append(f"{response.status} {response.url}")

    def is_open(self) -> None:
        """Wait until the log is open and the screen drawn."""
        expect(self.page.locator("#boot")).to_have_count(0)

    def reloads(self) -> None:
        """Load the page again, as after closing and opening the tablet."""
        self.page.reload()
        self.is_open()

    # -- Start ---------------------------------------------------------------
    def starts_now(self) -> None:
        """Tap the key that needs no name."""
        self.page.get_by_role("button", name="Start now, no name").click()
        expect(self.page.get_by_role("heading", name="Patient", exact=True)).to_be_visible()

    def starts_new(self) -> None:
        """Tap "New case"."""
        self.page.get_by_role("button", name="New case").click()
        expect(self.page.get_by_role("heading", name="Patient", exact=True)).to_be_visible()

    def is_now(self, name: str, role: str = "assistant") -> None:
        """Say who is at the tablet; in a case, or on Start."""
        self.page.get_by_role("button", name=re.compile("^(At this tablet|Who is here)")).click()
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
        """Open a part from the rail."""
        picker = self.page.locator(".rail-picker")
        if picker.is_visible():
            picker.click()
        self.page.get_by_role("navigation", name="Parts of the case").get_by_role(
            "link", name=re.compile(f"^{part}")
        ).click()
        expect(self.page.get_by_role("heading", name=part, exact=True, level=2)).to_be_visible()

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
        field.evaluate("(root) => root.contains(document.activeElement) && document.activeElement.blur()")

    def _tap(self, box: Locator) -> None:
        """Tap a key whose radio or checkbox covers it; twice quickly is a tremble."""
        box.click()

    def says(self, label: str, text: str | re.Pattern[str]) -> None:
        """Wait until the line under a field's name says this."""
        expect(self.field(label).locator(".field-said").first).to_contain_text(text)

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
        return self.page.evaluate(
            """async (record) => {
              const { openStore } = await import("/static/js/log/store.js");
              const store = await openStore();
              const fold = await store.fold(record);
              store.close();
              return fold;
            }""",
            self.record,
        )

    def value(self, path: str) -> Any:
        """The one value of a path; a list of heads when there are two."""
        heads = self.fold()["values"].get(path, [])
        return heads[0]["value"] if len(heads) == 1 else [h["value"] for h in heads]

    def rows(self, path: str) -> list[dict[str, Any]]:
        """The rows of a group, struck ones included."""
        return self.fold()["rows"].get(path, [])

    def waits_for(self, condition: str) -> None:
        """Wait until a JavaScript expression holds in the page."""
        wait_until(self.page, condition)
