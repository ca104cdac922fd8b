"""What a note costs, beside another maker of PDF files, and what sync costs meanwhile.

python -m tests.bench.note_bench WORK [--rounds 20] [--notes 100]

First the demo's whole case as our note and as an equal number of pages by weasyprint
(install it beside the product's own packages; it is used nowhere else), in turn, in
one process. Then a server that is asked for so many notes at once, while one tablet
sends small batches: what it waits for, beside the same server idle. Asserts nothing.
"""

from __future__ import annotations

import argparse
import http.client
import re
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from threading import Event, Thread

from tests.bench.cases import EACH, sealed_entries
from tests.bench.client import Client
from tests.bench.desk import Desk
from tests.bench.page_as_html import as_html
from tests.bench.rounds import Found, Taken, in_turn, percentile, print_machine
from tests.support.notes import note_of, told_case
from tests.support.server import LiveServer
from webapp.db import connect, migrate
from webapp.note.build import build_note
from webapp.note.model import NoteInput
from webapp.settings import load

CASE = "demo/1-clean-emergency"
SIZES_PT = [size / 4 for size in range(20, 61)]


def main() -> None:
    """Read the command line, measure, print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("work", type=Path)
    parser.add_argument("--rounds", type=int, default=20)
    parser.add_argument("--notes", type=int, default=100)
    asked = parser.parse_args()
    asked.work.mkdir(parents=True, exist_ok=True)
    print_machine(asked.work)
    _beside_another(asked.rounds)
    home = Path(tempfile.mkdtemp(prefix="notes-", dir=asked.work.resolve()))
    _while_notes_are_made(home, asked.notes)


def _beside_another(rounds: int) -> None:
    from weasyprint import HTML

    note = note_of(told_case(CASE))
    pages = _pages(build_note(note))
    html = _equal_pages(note, pages)
    found = in_turn(
        {
            "ours": lambda: _timed(lambda: build_note(note)),
            "weasyprint": lambda: _timed(lambda: HTML(string=html).write_pdf()),
        },
        rounds,
    )
    own, other = _median_ms(found, "ours"), _median_ms(found, "weasyprint")
    print(f"{pages} pages: ours {own:.0f} ms, weasyprint {other:.0f} ms,"
          f" {other / own:.2f}x")  # fmt: skip


def _equal_pages(note: NoteInput, pages: int) -> str:
    """Return the HTML at the size of letters that makes as many pages as ours has."""
    from weasyprint import HTML

    for size_pt in SIZES_PT:
        html = as_html(note, size_pt)
        if len(HTML(string=html).render().pages) >= pages:
            return html
    raise RuntimeError(f"no size makes {pages} pages")


def _while_notes_are_made(home: Path, notes: int) -> None:
    home.mkdir(exist_ok=True)
    db = connect(load(home).database)
    migrate(db)
    db.conn.close()
    server = LiveServer(home)
    server.start()
    try:
        port = int(server.url.rpartition(":")[2])
        client = Client.enrols(home, port, "tablet 2")
        records = sealed_entries(client.writer, 60)
        client.sends(records)
        ids = list(dict.fromkeys(e.header.record for e in records))
        desk = Desk.signs_in(home, port)
        idle = _sync_ms(client, 200, Event())
        asking = [
            Thread(target=_ask, args=(port, desk.cookie, ids[n % len(ids)]))
            for n in range(notes)
        ]
        enough = Event()
        began = time.perf_counter()
        for thread in asking:
            thread.start()
        busy_ms: list[float] = []
        watch = Thread(target=lambda: busy_ms.extend(_sync_ms(client, 10_000, enough)))
        watch.start()
        for thread in asking:
            thread.join()
        took_s = time.perf_counter() - began
        enough.set()
        watch.join()
    finally:
        server.stop()
    before, during = percentile(idle, 95), percentile(busy_ms, 95)
    print(
        f"/sync p95 idle {before:.1f} ms, while {notes} notes are made {during:.1f} ms"
        f" ({during / before:.2f}x, {len(busy_ms)} batches);"
        f" all notes in {took_s:.1f} s"
    )


def _ask(port: int, cookie: str, record: str) -> None:
    """Ask for a note until it is given, as the page of a busy server does by itself."""
    while True:
        link = http.client.HTTPConnection("127.0.0.1", port, timeout=300)
        link.request("GET", f"/records/{record}/note.pdf", headers={"Cookie": cookie})
        reply = link.getresponse()
        reply.read()
        link.close()
        if reply.status == 200:
            return
        time.sleep(float(reply.headers["Retry-After"]))


def _sync_ms(client: Client, most: int, enough: Event) -> list[float]:
    """Send small batches, a breath apart; return what each took."""
    taken: list[float] = []
    while len(taken) < most and not enough.is_set():
        batch = sealed_entries(client.writer, 1, EACH)
        began = time.perf_counter()
        client.sends_one(batch)
        taken.append((time.perf_counter() - began) * 1000)
        enough.wait(0.02)
    return taken


def _timed(make: Callable[[], object]) -> Taken:
    began, cpu = time.perf_counter(), time.process_time()
    make()
    return Taken(time.perf_counter() - began, time.process_time() - cpu)


def _median_ms(found: Found, name: str) -> float:
    return statistics.median(taken.seconds for taken in found[name]) * 1000


def _pages(pdf: bytes) -> int:
    return len(re.findall(rb"/Type /Page\b", pdf))


if __name__ == "__main__":
    main()
