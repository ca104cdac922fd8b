"""Sites whose log is long already, and batches to add to them."""

from __future__ import annotations

import base64
import itertools
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlite_utils import Database

from tests.bench.cases import EACH, drafts_of_records, sealed_entries
from webapp.db import connect, migrate, writing
from webapp.people import tablets
from webapp.record import log
from webapp.record.entry import NO_KEY, VERSION, Header, encode_body, uuid7
from webapp.record.framing import Push, encode_push, read_push
from webapp.record.keyring import Keyring
from webapp.record.log import NewEntry
from webapp.record.receive import Sender, receive
from webapp.record.records import refold
from webapp.record.writer import Writer, body_of
from webapp.settings import load

BATCH = 500
# A ward's tablets, each with its own log, fill in turn.
_LOGS = 40
_STEP = 20_000
_TOLD_EVERY = 500_000


@dataclass(slots=True)
class Site:
    """One hospital's database, and one enrolled tablet that writes to it."""

    db: Database
    keyring: Keyring
    sender: Sender
    writer: Writer
    filling: Iterator[NewEntry]

    def appends(self) -> tuple[float, float]:
        """Append one batch as the desk's and the tablets' entries are; return ms."""
        batch = list(itertools.islice(self.filling, BATCH))
        began = time.perf_counter(), time.process_time()
        with writing(self.db):
            log.append(self.db, batch)
        return _ms_since(*began)

    def receives(self) -> tuple[float, float]:
        """Receive one sealed batch and refold its records, as `/sync` does."""
        push = self._push()
        began = time.perf_counter(), time.process_time()
        receipt = receive(self.db, self.keyring, self.sender, push)
        refold(self.db, receipt.touched, receipt.fresh)
        taken = _ms_since(*began)
        if any(answer.counts != "counted" for answer in receipt.answers):
            raise RuntimeError("not every entry was counted")
        return taken

    def _push(self) -> Push:
        entries = sealed_entries(self.writer, BATCH // EACH)
        head = {
            "v": 1,
            "wraps": [w.as_json() for w in self.writer.wraps_of(entries)],
            "entries": [e.as_json() for e in entries],
        }
        return read_push(encode_push(head, [e.sealed for e in entries]))


def filled(home: Path, entries: int) -> Site:
    """Make a site that holds so many entries already, every kind among them."""
    home.mkdir()
    settings = load(home)
    db = connect(settings.database)
    migrate(db)
    keyring = Keyring(home)
    key = keyring.current()
    writer = Writer(key.id, base64.b64decode(key.public()["spki"]))
    tablet, _ = tablets.add(db, "Tablet 1")
    site = Site(db, keyring, Sender(tablet.id, False), writer, _endless())
    for start in range(0, entries, _STEP):
        batch = list(itertools.islice(site.filling, min(_STEP, entries - start)))
        began = time.perf_counter(), time.process_time()
        with writing(db):
            log.append(db, batch)
        _, cpu_ms = _ms_since(*began)
        if start % _TOLD_EVERY == 0 and start:
            rate = len(batch) / cpu_ms
            told = (
                f"{start:,} of {entries:,} entries: {rate:.1f} rows in a processor ms"
            )
            print(told, flush=True)
    db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return site


def _endless() -> Iterator[NewEntry]:
    """Yield entries of ever new records; their bodies come round again."""
    bodies = [encode_body(body_of(draft)) for _, draft in drafts_of_records(50)]
    logs = [uuid7() for _ in range(_LOGS)]
    for number in itertools.count():
        own = logs[number % _LOGS]
        record = uuid7()
        for place in range(EACH):
            seq = number // _LOGS * EACH + place + 1
            header = Header(VERSION, uuid7(), record, own, seq, NO_KEY)
            body = bodies[(number * EACH + place) % len(bodies)]
            yield NewEntry(header, body, "opened", "counted")


def _ms_since(clock: float, processor: float) -> tuple[float, float]:
    return (time.perf_counter() - clock) * 1e3, (time.process_time() - processor) * 1e3
