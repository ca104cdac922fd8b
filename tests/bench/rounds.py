"""Take cases in turn, so that what else the machine does falls on all alike."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable
from pathlib import Path

Cases = dict[str, Callable[[], float]]


def in_turn(cases: Cases, rounds: int) -> dict[str, list[float]]:
    """Run every case once a round; return what each gave, round by round."""
    found: dict[str, list[float]] = {name: [] for name in cases}
    for number in range(1, rounds + 1):
        for name, case in cases.items():
            found[name].append(case())
        told = "  ".join(f"{name} {got[-1]:.0f}" for name, got in found.items())
        print(f"round {number}: {told}", flush=True)
    return found


def print_ratios(found: dict[str, list[float]], against: str, unit: str) -> None:
    """Print each case's median, its spread, and its ratio to one of them.

    The ratio is the median of the rounds' own ratios.
    """
    for name, got in found.items():
        pairs = zip(got, found[against], strict=True)
        ratio = statistics.median(one / other for one, other in pairs)
        middle = statistics.median(got)
        spread = f"{min(got):.0f}..{max(got):.0f}"
        print(f"{name:32} {middle:8.0f} {unit} ({spread})  {ratio:6.2f}x {against}")


def print_machine(work: Path) -> None:
    """Print the load and what a forced write to this disk takes."""
    load = ", ".join(f"{part:.1f}" for part in os.getloadavg())
    p50_ms, p95_ms = _fsync_ms(work)
    print(f"load {load}; fsync of 4 KiB {p50_ms:.2f} ms p50, {p95_ms:.2f} ms p95")


def percentile(values: list[float], percent: int) -> float:
    """Return the value below which `percent` of them lie."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, len(ordered) * percent // 100)]


def _fsync_ms(work: Path, times: int = 100) -> tuple[float, float]:
    taken: list[float] = []
    file = work / "forced"
    with file.open("wb") as out:
        for _ in range(times):
            began = time.perf_counter()
            out.write(b"x" * 4096)
            out.flush()
            os.fsync(out.fileno())
            taken.append((time.perf_counter() - began) * 1000)
    file.unlink()
    return percentile(taken, 50), percentile(taken, 95)
