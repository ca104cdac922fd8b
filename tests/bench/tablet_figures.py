"""The tablet's figures, measured one after the other in one browser."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Page, Playwright

from tests.bench.tablet_case import Told
from tests.bench.tablet_page import WATCH, control_ms, opened_ms, read_ms, started, tap
from tests.support.browser import Browser, wait_until
from tests.support.server import LiveServer

SLOWED = 4
# Yes or no, answered by one tap; the second of them is tapped when the first was.
FIELDS = {
    "Indication": tuple(
        f"indication.caution_{what}"
        for what in ("tricuspid_device", "heart_transplant", "digoxin_toxicity")
    ),
    "Capture": ("capture.v_lead_off", "capture.pins_covered", "capture.generator_on"),
}
_SHOWN = """document.querySelector("#case:not([hidden]):not([inert])") !== null"""
_LISTED = """document.querySelectorAll("#cases [data-record]").length > 1"""

Found = dict[str, list[float]]


class Bench:
    """One round: a browser on the tablet's profile, and its server."""

    def __init__(self, playwright: Playwright, work: Path, told: Told) -> None:
        self._told = told
        self._server = LiveServer(work / "home")
        self._server.port = told.port
        self._browser = Browser(playwright, work / "profile")

    def measures(self, found: Found, taps: int, loads: int) -> None:
        """Take every figure so many times, and add it to what was found."""
        self._server.start()
        self._browser.context.add_init_script(WATCH)
        try:
            self._taps(found, taps)
            self._server.stop()
            for _ in range(loads):
                self._reads(found)
                self._opens(found)
            self._starts(found, loads)
        finally:
            self._browser.close()
            self._server.stop()

    def _taps(self, found: Found, count: int) -> None:
        for part, fields in FIELDS.items():
            with self._at(self._told.small, part.lower()) as page:
                for rate in (1, SLOWED):
                    self._slows(page, rate)
                    found[f"control loop, {rate}x"] += [control_ms(page)]
                    for number in range(count):
                        took = tap(page, fields[number % len(fields)])
                        found[f"tap to transaction complete, {rate}x"] += [
                            took.committed
                        ]
                        found[f"tap to receipt, {rate}x"] += [took.kept]
                        screen = f"tap to screen, 500 entries, {part}, {rate}x"
                        found[screen] += [took.drawn]

    def _reads(self, found: Found) -> None:
        name = f"5,000 entries: log opened, read and folded, {SLOWED}x"
        bare = self._browser.opens(f"{self._server.url}/tablet/enrol")
        self._slows(bare, SLOWED)
        found[f"control loop, {SLOWED}x"] += [control_ms(bare)]
        found[name] += [read_ms(bare, self._told.large, 5000)]
        bare.close()

    def _opens(self, found: Found) -> None:
        name = "5,000 entries: case on the screen"
        page = self._browser.opens(f"{self._server.url}/tablet/#/")
        wait_until(page, _LISTED)
        self._slows(page, SLOWED)
        found[f"{name}, from Start, {SLOWED}x"] += [opened_ms(page, self._told.large)]
        page.close()
        with self._at(self._told.small, "patient") as page:
            self._slows(page, SLOWED)
            took = opened_ms(page, self._told.large)
            found[f"{name}, not read before, {SLOWED}x"] += [took]

    def _starts(self, found: Found, loads: int) -> None:
        for count, record in (("500", self._told.small), ("5,000", self._told.large)):
            name = f"offline start, {count} entries"
            with self._at(record, "indication") as page:
                self._slows(page, SLOWED)
                for _ in range(loads):
                    found[f"control loop, {SLOWED}x"] += [control_ms(page)]
                    page.reload(wait_until="commit")
                    took = started(page, FIELDS["Indication"][0])
                    found[f"{name}, to usable, {SLOWED}x"] += [took.usable]
                    answered = f"{name}, first control answered, {SLOWED}x"
                    found[answered] += [took.answered]

    @contextlib.contextmanager
    def _at(self, record: str, part: str) -> Iterator[Page]:
        """Show a part of a case in a page of its own, and let its start settle."""
        page = self._browser.opens(f"{self._server.url}/tablet/#/case/{record}/{part}")
        wait_until(page, _SHOWN)
        yield page
        page.close()

    def _slows(self, page: Page, rate: int) -> None:
        session = self._browser.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": rate})
