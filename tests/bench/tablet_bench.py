"""How fast the tablet answers: tap, start without network, a record of 5,000 entries.

python -m tests.bench.tablet_bench WORK [--rounds 3] [--taps 30] [--loads 7]

A real server, an enrolled tablet with its profile on disk, Chromium; the processor of
the page slowed four times where a figure says so. Both records are written through the
tablet's own append path and sent. Prints each figure with its bound; asserts nothing.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import tempfile
from collections import defaultdict
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.bench.rounds import percentile, print_machine
from tests.bench.tablet_case import told_on
from tests.bench.tablet_figures import Bench, Found

# Name, the figure that its bound is on, its bound in ms.
BOUNDS = {
    "tap to transaction complete, 1x": ("p95", 20),
    "tap to receipt, 1x": ("p95", 20),
    "tap to transaction complete, 4x": ("", 0),
    "tap to receipt, 4x": ("", 0),
    "tap to screen, 500 entries, Indication, 4x": ("p50", 100),
    "tap to screen, 500 entries, Capture, 4x": ("p50", 100),
    "offline start, 500 entries, to usable, 4x": ("p50", 800),
    "offline start, 500 entries, first control answered, 4x": ("p50", 800),
    "offline start, 5,000 entries, to usable, 4x": ("", 0),
    "5,000 entries: log opened, read and folded, 4x": ("p50", 400),
    "5,000 entries: case on the screen, from Start, 4x": (
        "p50",
        400,
    ),
    "5,000 entries: case on the screen, not read before, 4x": (
        "",
        0,
    ),
}


# The same loop on the same kind of machine doing nothing else, by rate. A machine that
# takes much longer is shared: its figures tell what they took, not that a bound fails.
QUIET_MS = {1: 19, 4: 78}


def main() -> None:
    """Read the command line, measure in turn, print."""
    asked = _arguments()
    asked.work.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix="tablet-", dir=asked.work.resolve()))
    found: Found = defaultdict(list)
    with sync_playwright() as playwright:
        told = told_on(work, playwright)
        print_machine(work)
        for number in range(1, asked.rounds + 1):
            bench = Bench(playwright, work, told)
            bench.measures(found, taps=asked.taps, loads=asked.loads)
            print(f"round {number} of {asked.rounds} done", flush=True)
        print_machine(work)
    for name, bound in BOUNDS.items():
        _print(name, found[name], *bound)
    for rate, quiet_ms in QUIET_MS.items():
        took = statistics.median(found[f"control loop, {rate}x"])
        times = took / quiet_ms
        print(
            f"control loop, {rate}x: {took:.0f} ms, {times:.1f} times a quiet machine's"
        )
    shutil.rmtree(work)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("work", type=Path)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--taps", type=int, default=30)
    parser.add_argument("--loads", type=int, default=7)
    return parser.parse_args()


def _print(name: str, ms: list[float], of: str, bound_ms: int) -> None:
    p50, p95 = statistics.median(ms), percentile(ms, 95)
    told = f"{name:58} p50 {p50:5.0f}  p95 {p95:5.0f} ms  n {len(ms)}"
    if of:
        is_met = {"p50": p50, "p95": p95}[of] < bound_ms
        told += f"  {of} under {bound_ms}: {'yes' if is_met else 'NO'}"
    print(told, flush=True)


if __name__ == "__main__":
    main()
