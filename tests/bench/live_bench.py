"""How soon the live screens answer a tap, with 500 entries in the case.

python -m tests.bench.live_bench WORK [--taps 30]

A real server, an enrolled tablet with its profile on disk, Chromium, the page's
processor slowed four times. A tap is answered by the frame that shows it: the depth
called, the result taken, the dial confirmed, the result kept and the next value
offered. Prints median and p95 beside the bound, and what moved; asserts nothing.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import tempfile
from collections import defaultdict
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.bench.live_page import WATCH_SHIFTS, answered_ms, shifted
from tests.bench.rounds import percentile, print_machine
from tests.bench.tablet_case import records_on
from tests.bench.tablet_page import WATCH, control_ms
from tests.support.browser import Browser, wait_until
from tests.support.server import LiveServer

ENTRIES, SLOWED, BOUND_MS = 500, 4, 100
# The control loop of tablet_bench on a machine that does nothing else.
QUIET_MS = 78
_LIVE = """document.querySelector("#work")?.dataset.view === "live" &&
  document.querySelector("#case:not([hidden]):not([inert]) #panel .key") !== null"""
_TAKEN = (
    "document.querySelector('.adv-grid > [data-result][aria-pressed=true]') !== null"
    " || document.querySelector('.adv-depth [data-called]') === null"
)
_CALLED = "document.querySelector('.adv-depth [data-called]') !== null"
_CONFIRMED = "document.querySelector('[data-act=dial-confirm]').ariaPressed === 'true'"
_KEEPING = "document.querySelector('[data-act=dial-confirm][aria-disabled]') !== null"

Found = dict[str, list[float]]


def main() -> None:
    """Read the command line, measure, print."""
    asked = _arguments()
    asked.work.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix="live-", dir=asked.work.resolve()))
    found: Found = defaultdict(list)
    with sync_playwright() as playwright:
        port, (record,) = records_on(work, playwright, (ENTRIES,))
        print_machine(work)
        server = LiveServer(work / "home")
        server.port = port
        server.start()
        browser = Browser(playwright, work / "profile")
        for script in (WATCH, WATCH_SHIFTS):
            browser.context.add_init_script(script)
        for part, taps in (("advance", _advance), ("capture", _capture)):
            page = browser.opens(f"{server.url}/tablet/#/case/{record}/{part}")
            wait_until(page, _LIVE)
            session = browser.context.new_cdp_session(page)
            session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
            found["control"].append(control_ms(page))
            shifted(page)
            for number in range(asked.taps):
                taps(page, found, number)
            found[f"{part}, layout shift"].append(shifted(page))
            page.close()
        browser.close()
        server.stop()
        print_machine(work)
    _print(found)
    shutil.rmtree(work)


def _advance(page: Page, found: Found, number: int) -> None:
    """Call a depth of the lens, then what was seen there."""
    took = answered_ms(page, ".adv-lens > .key", 2 + number % 2, _CALLED)
    found["advance: depth called"] += [took]
    results = ".adv-grid > .key[data-result]"
    took = answered_ms(page, results, number % 2, _TAKEN)
    found["advance: result taken"] += [took]
    # Its next tap is another reading's: this one is kept first.
    wait_until(page, f"!({_CALLED})")


def _capture(page: Page, found: Found, number: int) -> None:
    """Confirm the dial, then tell its result."""
    took = answered_ms(page, "[data-act=dial-confirm]", 0, _CONFIRMED)
    found["capture: dial confirmed"] += [took]
    took = answered_ms(page, ".cap-result", 2 * (number % 2), f"!({_CONFIRMED})")
    found["capture: result taken"] += [took]
    # Its next tap is the next reading's: this one is kept first, as the key says.
    wait_until(page, f"!({_KEEPING})")


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("work", type=Path)
    parser.add_argument("--taps", type=int, default=30)
    return parser.parse_args()


def _print(found: Found) -> None:
    for name, told in found.items():
        if name.endswith("layout shift"):
            print(f"{name:32} {told[0]:.4f}")
        elif name != "control":
            p50, p95 = statistics.median(told), percentile(told, 95)
            is_met = "yes" if p95 < BOUND_MS else "NO"
            print(
                f"{name:32} p50 {p50:5.0f}  p95 {p95:5.0f} ms  n {len(told)}"
                f"  p95 under {BOUND_MS}: {is_met}"
            )
    took = statistics.median(found["control"])
    print(f"control loop: {took:.0f} ms, {took / QUIET_MS:.1f} times a quiet machine's")


if __name__ == "__main__":
    main()
