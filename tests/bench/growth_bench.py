"""What a batch costs when the log is short, and when it is long.

python -m tests.bench.growth_bench WORK [--sizes 10000 100000 1000000] [--batches 40]

WORK: a folder on a real disk with 1.5 GB free for each million entries. One site of
each size is filled first; then each gets a batch of 500 in turn. Prints the cost of
`log.append` and of `receive` with the refold behind it, and their ratios to the
shortest log; asserts nothing.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import tempfile
from pathlib import Path

from tests.bench.growth import BATCH, Site, filled
from tests.bench.rounds import percentile, print_machine

Costs = dict[int, list[tuple[float, float]]]


def main() -> None:
    """Read the command line, fill, measure, print."""
    asked = _arguments()
    asked.work.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix="growth-", dir=asked.work.resolve()))
    try:
        sites: dict[int, Site] = {}
        for size in asked.sizes:
            sites[size] = filled(work / f"of-{size}", size)
            print(f"filled with {size:,} entries", flush=True)
        print_machine(work)
        appended: Costs = {size: [] for size in sites}
        received: Costs = {size: [] for size in sites}
        for _ in range(asked.batches):
            for size, site in sites.items():
                appended[size].append(site.appends())
                received[size].append(site.receives())
        print_machine(work)
        _print("log.append", appended)
        _print("receive and refold", received)
    finally:
        shutil.rmtree(work)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("work", type=Path)
    parser.add_argument("--sizes", type=int, nargs="+", default=[10**4, 10**5, 10**6])
    parser.add_argument("--batches", type=int, default=40)
    return parser.parse_args()


def _print(what: str, costs: Costs) -> None:
    """Print one line a size. A ratio above 1 is a cost that grew."""
    first = next(iter(costs.values()))
    for size, taken in costs.items():
        clock, cpu = ([t[i] for t in taken] for i in (0, 1))
        by_clock = _ratio(clock, [t[0] for t in first])
        by_cpu = _ratio(cpu, [t[1] for t in first])
        p50, p95 = percentile(clock, 50), percentile(clock, 95)
        print(
            f"{what:20} {size:>11,} entries: {BATCH / p50 * 1e3:7.0f} rows/s,"
            f" a batch {p50:.1f} ms p50, {p95:.1f} ms p95;"
            f" {by_clock:.2f}x by the clock, {by_cpu:.2f}x by processor time"
        )


def _ratio(own: list[float], others: list[float]) -> float:
    return statistics.median(o / s for o, s in zip(own, others, strict=True))


if __name__ == "__main__":
    main()
