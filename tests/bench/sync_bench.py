"""Entries a second through the real `/sync`, against a document database's pair.

python -m tests.bench.sync_bench WORK [--yardstick MODULES] [--rounds 5]

WORK: a folder on a real disk, outside the repository; MODULES: see `pouch.py`. The
product's server runs with everything on: seals opened, kinds checked, entries ruled
and chained, records refolded, synchronous=FULL. Prints ratios; asserts nothing.
"""

from __future__ import annotations

import argparse
import json
import shutil
import tempfile
import time
from functools import partial
from pathlib import Path

from tests.bench import pouch
from tests.bench.cases import EACH, as_documents, sealed_entries
from tests.bench.client import enrolled
from tests.bench.rounds import (
    Cases,
    Taken,
    cpu_s,
    in_turn,
    percentile,
    print_machine,
    print_ratios,
)
from tests.support.server import LiveServer
from webapp.db import connect
from webapp.record.entry import uuid7
from webapp.record.seal import make_server_key, public_spki
from webapp.record.writer import Writer

OURS = "wiremark /sync"
YARDSTICK = "documents replicated"
BATCH = 500


def main() -> None:
    """Read the command line, measure, print."""
    asked = _arguments()
    asked.work.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix="sync-", dir=asked.work.resolve()))
    batch_ms: list[float] = []
    cases: Cases = {OURS: partial(_ours, work, asked.entries, batch_ms)}
    if asked.yardstick:
        file = _documents(work, asked.entries)
        cases[YARDSTICK] = partial(_yardstick, asked.yardstick.resolve(), work, file)
    print_machine(work)
    found = in_turn(cases, asked.rounds)
    print_machine(work)
    print_ratios(found, list(cases)[-1], asked.entries, "entries")
    p50, p95 = percentile(batch_ms, 50), percentile(batch_ms, 95)
    print(f"a batch of {BATCH}: {p50:.0f} ms p50, {p95:.0f} ms p95")
    shutil.rmtree(work)


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("work", type=Path)
    parser.add_argument("--yardstick", type=Path, help="folder with its modules")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--entries", type=int, default=10_000)
    return parser.parse_args()


def _ours(work: Path, count: int, batch_ms: list[float]) -> Taken:
    """Return what it takes until all that one tablet holds is kept and listed."""
    home = work / "home"
    home.mkdir()
    server = LiveServer(home).start()
    try:
        client = enrolled(server, "Tablet 1")
        entries = sealed_entries(client.writer, count // EACH + 1)
        # The process that refolds is started before the clock is.
        client.sends(entries[:EACH], EACH)
        _wait_for_list(home)
        cpu_before = cpu_s(server.pid) + time.process_time()
        began = time.perf_counter()
        client.sends(entries[EACH:], BATCH)
        _wait_for_list(home)
        seconds = time.perf_counter() - began
        cpu = cpu_s(server.pid) + time.process_time() - cpu_before
        batch_ms += client.batch_ms
        client.connection.close()
    finally:
        server.stop()
    _check(home, len(entries))
    shutil.rmtree(home)
    return Taken(seconds, cpu)


def _wait_for_list(home: Path) -> None:
    """Wait until no record is marked: what runs beside the answers is work, too."""
    db = connect(home / "wiremark.db")
    while db.execute("SELECT 1 FROM record WHERE fold_version = 0 LIMIT 1").fetchone():
        time.sleep(0.001)
    db.conn.close()


def _check(home: Path, count: int) -> None:
    """See that the work measured was done: every entry logged, every record listed."""
    db = connect(home / "wiremark.db")
    entries = db.execute("SELECT count(*) FROM entry").fetchone()[0]
    listed = db.execute("SELECT count(*) FROM record").fetchone()[0]
    db.conn.close()
    if (entries, listed) != (count, count // EACH):
        raise RuntimeError(f"{entries} entries of {count}, {listed} records listed")


def _documents(work: Path, count: int) -> Path:
    writer = Writer(uuid7(), public_spki(make_server_key()))
    told = as_documents(sealed_entries(writer, count // EACH))
    file = work / "documents.json"
    file.write_text(json.dumps(told, separators=(",", ":")), encoding="utf-8")
    return file


def _yardstick(modules: Path, work: Path, file: Path) -> Taken:
    taken = pouch.replicate(modules, work, file, BATCH)
    shutil.rmtree(work / "documents")
    return taken


if __name__ == "__main__":
    main()
