"""Take cases in turn, so that what else the machine does falls on all alike."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Taken:
    """What one case took: seconds on the clock, and of the processors together."""

    seconds: float
    cpu_s: float


Cases = dict[str, Callable[[], Taken]]
Found = dict[str, list[Taken]]


def in_turn(cases: Cases, rounds: int) -> Found:
    """Run every case once a round; return what each took, round by round."""
    found: Found = {name: [] for name in cases}
    for number in range(1, rounds + 1):
        for name, case in cases.items():
            found[name].append(case())
        told = ", ".join(f"{n} {got[-1].seconds:.2f} s" for n, got in found.items())
        print(f"round {number}: {told}", flush=True)
    return found


def print_ratios(found: Found, against: str, count: int, unit: str) -> None:
    """Print what each case did a second, and how often as fast as another it is.

    By the clock, and by the work of the processors, which a busy machine moves less.
    A ratio is the median of the rounds' own ratios. `count`: units done in a case.
    """
    for name, got in found.items():
        others = found[against]
        rates = [count / one.seconds for one in got]
        by_clock = _ratio([t.seconds for t in got], [t.seconds for t in others])
        by_cpu = _ratio([t.cpu_s for t in got], [t.cpu_s for t in others])
        print(
            f"{name:24} {statistics.median(rates):7.0f} {unit}/s"
            f" ({min(rates):.0f}..{max(rates):.0f})"
            f"  {by_clock:.2f}x by the clock, {by_cpu:.2f}x by processor time"
        )


def _ratio(own: list[float], others: list[float]) -> float:
    return statistics.median(o / s for o, s in zip(others, own, strict=True))


def cpu_s(process: int) -> float:
    """Return the processor seconds of a process and of those it started, by /proc."""
    stat = Path(f"/proc/{process}/stat").read_text(encoding="utf-8")
    user, system = stat.rpartition(")")[2].split()[11:13]
    own = (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")
    tasks = Path(f"/proc/{process}/task").glob("*/children")
    started = " ".join(task.read_text(encoding="utf-8") for task in tasks).split()
    return own + sum(cpu_s(int(child)) for child in started)


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
