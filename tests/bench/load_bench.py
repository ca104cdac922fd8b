"""How many threads serve a ward: tablets that send much, and people who ask little.

python -m tests.bench.load_bench WORK [--threads 1 2 4 8] [--tablets 1 8 20] [--pdf]

Every case is a real server with so many threads. Its tablets send 12,000 entries in
batches of 500 between them, while one more tablet sends entry by entry, one person at
the desk reads a small page again and again, and, with --pdf, another has a note made
again and again. Cases take turns. Prints ratios to the first number of threads;
asserts nothing.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import tempfile
import time
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from threading import Event, Thread

from tests.bench.cases import EACH, sealed_entries
from tests.bench.client import Client, enrolled
from tests.bench.desk import Desk
from tests.bench.rounds import percentile, print_machine
from tests.support.server import LiveServer
from webapp.record.writer import SealedEntry

BATCH = 500
BATCHES = 24


@dataclass(frozen=True, slots=True)
class Seen:
    """What one case showed: seconds for all batches, and what the small ones took."""

    seconds: float
    batch_ms: list[float]
    desk_ms: list[float]
    single_ms: list[float]


Case = tuple[int, int]


def main() -> None:
    """Read the command line, measure, print."""
    asked = _arguments()
    asked.work.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix="load-", dir=asked.work.resolve()))
    cases = [
        (tablets, threads) for tablets in asked.tablets for threads in asked.threads
    ]
    found: dict[Case, list[Seen]] = defaultdict(list)
    print_machine(work)
    for number in range(1, asked.rounds + 1):
        for case in cases:
            found[case].append(_seen(work / "home", *case, with_pdf=asked.pdf))
        print(f"round {number} of {asked.rounds} done", flush=True)
    print_machine(work)
    for case in cases:
        _print(case, found[case], found[case[0], asked.threads[0]])
    shutil.rmtree(work)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("work", type=Path)
    parser.add_argument("--threads", type=int, nargs="+", default=[1, 2, 4, 8])
    parser.add_argument("--tablets", type=int, nargs="+", default=[1, 8, 20])
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--pdf", action="store_true", help="and notes are made")
    return parser.parse_args()


def _seen(home: Path, tablets: int, threads: int, *, with_pdf: bool) -> Seen:
    home.mkdir()
    server = LiveServer(home, threads=threads).start()
    try:
        senders = [enrolled(server, f"Tablet {n}") for n in range(tablets)]
        each = max(1, BATCHES // tablets) * BATCH
        outboxes = [sealed_entries(one.writer, each // EACH) for one in senders]
        single = enrolled(server, "Tablet that sends one by one")
        [few] = [sealed_entries(single.writer, 50)]
        single.sends(few[:EACH], EACH)
        page = f"/records/{few[0].header.record}"
        enough = Event()
        desk = Desk.signs_in(home, server.port)
        asking = [(desk.keeps_asking, (f"{page}/entries?path=wires", enough))]
        if with_pdf:
            reader = Desk.signs_in(home, server.port)
            reader.asks(f"{page}/note.pdf")
            asking.append((reader.keeps_asking, (f"{page}/note.pdf", enough)))
        asking.append((_one_by_one, (single, few[EACH:], enough)))
        small = [Thread(target=what, args=given) for what, given in asking]
        sending = [
            Thread(target=one.sends, args=(box, BATCH))
            for one, box in zip(senders, outboxes, strict=True)
        ]
        desk.taken_ms.clear()
        single.batch_ms.clear()
        began = time.perf_counter()
        for thread in (*small, *sending):
            thread.start()
        for thread in sending:
            thread.join()
        seconds = time.perf_counter() - began
        enough.set()
        for thread in small:
            thread.join()
    finally:
        server.stop()
    shutil.rmtree(home)
    batch_ms = [ms for one in senders for ms in one.batch_ms]
    entries = sum(map(len, outboxes))
    return Seen(seconds / entries * 1000, batch_ms, desk.taken_ms, single.batch_ms)


def _one_by_one(client: Client, entries: list[SealedEntry], enough: Event) -> None:
    for entry in entries:
        if enough.is_set():
            return
        client.sends([entry])


def _print(case: Case, own: list[Seen], others: list[Seen]) -> None:
    """Print one case. A ratio above 1 is slower than with the first number."""
    tablets, threads = case
    print(
        f"{tablets:2} tablets, {threads} threads:"
        f" a thousand entries {statistics.median(s.seconds for s in own):.2f} s"
        f" ({_ratio(own, others, _seconds):.2f}x),"
        f" batch p95 {_middle(own, _batch_p95):.0f} ms;"
        f" desk page p50 {_middle(own, _desk_p50):.0f},"
        f" p95 {_middle(own, _desk_p95):.0f} ms"
        f" ({_ratio(own, others, _desk_p95):.2f}x);"
        f" single entry p95 {_middle(own, _single_p95):.0f} ms"
        f" ({_ratio(own, others, _single_p95):.2f}x)",
        flush=True,
    )


def _seconds(seen: Seen) -> float:
    return seen.seconds


def _batch_p95(seen: Seen) -> float:
    return percentile(seen.batch_ms, 95)


def _desk_p50(seen: Seen) -> float:
    return percentile(seen.desk_ms, 50)


def _desk_p95(seen: Seen) -> float:
    return percentile(seen.desk_ms, 95)


def _single_p95(seen: Seen) -> float:
    return percentile(seen.single_ms, 95)


def _middle(seen: list[Seen], what) -> float:
    return statistics.median(map(what, seen))


def _ratio(own: list[Seen], others: list[Seen], what) -> float:
    pairs = zip(own, others, strict=True)
    return statistics.median(what(one) / what(other) for one, other in pairs)


if __name__ == "__main__":
    main()
