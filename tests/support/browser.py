"""A real Chromium with a profile on disk: closed, killed, started again."""

from __future__ import annotations

import os
import select
import shutil
import signal
from contextlib import suppress
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, Playwright

# The same engine without a desktop's windows where it is there: it starts in half the time.
CHROMIUM = shutil.which("chromium-headless-shell") or shutil.which("chromium")
FLAGS = [
    "--headless",
    # Letters as wide as where there is a screen: without it each is put on whole pixels.
    "--font-render-hinting=none",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
# Polls inside the page: a page's policy forbids what Playwright's own waiting needs.
_UNTIL = """async (within_ms) => {{
  const end = performance.now() + within_ms;
  const holds = async () => {condition};
  while (!(await holds())) {{
    if (performance.now() > end) throw new Error("never became true");
    await new Promise((resolve) => setTimeout(resolve, 25));
  }}
}}"""


def wait_until(page: Page, condition: str, within_s: float = 30) -> None:
    """Wait until a JavaScript expression holds in the page; it may await."""
    page.evaluate(_UNTIL.format(condition=condition), within_s * 1000)


class Browser:
    """One Chromium on one profile; what it keeps outlives `close` and `kill`.

    An ordinary Playwright context keeps its database in memory, hence the profile.
    `problems`: console errors and uncaught exceptions of every page.
    """

    def __init__(self, playwright: Playwright, profile: Path, **options: Any) -> None:
        self.profile = profile
        self.problems: list[str] = []
        self._playwright = playwright
        size = {"width": 1280, "height": 800}
        self._options = {"executable_path": CHROMIUM, "viewport": size, **options}
        self._context: BrowserContext | None = None

    @property
    def context(self) -> BrowserContext:
        """Return the running browser's context, started when it was not."""
        if self._context is None:
            self._context = self._playwright.chromium.launch_persistent_context(
                str(self.profile),
                args=FLAGS,
                timezone_id="Europe/Oslo",
                locale="en-GB",
                **self._options,
            )
            # Two cores may carry much else: a condition is waited for, not timed.
            self._context.set_default_timeout(120_000)
            self._context.on("page", self._listen)
            for page in self._context.pages:
                self._listen(page)
        return self._context

    def opens(self, url: str) -> Page:
        """Open an address in a new page, and return the page once it has loaded."""
        page = self.context.new_page()
        page.goto(url)
        return page

    def close(self) -> None:
        """Close as a person does."""
        if self._context is not None:
            self._context.close()
            self._context = None

    def kill(self) -> None:
        """End every process of the browser at once (SIGKILL), as a flat battery does.

        Returns when none is left: one that outlived the others for a moment would
        still write to the profile.
        """
        group = self._process_id()
        ends = _ends_of(group)
        with self.context.expect_event("close"):
            os.killpg(group, signal.SIGKILL)
        self._context = None
        for end in ends:
            select.select([end], [], [])
            os.close(end)

    def _process_id(self) -> int:
        mark = f"--user-data-dir={self.profile}".encode()
        for folder in Path("/proc").glob("[0-9]*"):
            try:
                words = (folder / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if mark in words and not any(w.startswith(b"--type=") for w in words):
                return int(folder.name)
        raise ProcessLookupError(str(self.profile))

    def _listen(self, page: Page) -> None:
        page.on(
            "console",
            lambda told: (
                self.problems.append(told.text) if told.type == "error" else None
            ),
        )
        page.on("pageerror", lambda error: self.problems.append(str(error)))


def _ends_of(group: int) -> list[int]:
    """Return a descriptor for each process of a group, readable once it has ended."""
    ends = []
    for folder in Path("/proc").glob("[0-9]*"):
        process_id = int(folder.name)
        # One that ended meanwhile needs no waiting for.
        with suppress(ProcessLookupError):
            if os.getpgid(process_id) == group:
                ends.append(os.pidfd_open(process_id))
    return ends
