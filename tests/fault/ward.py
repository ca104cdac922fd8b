"""A real ward: a server process, a Chromium tablet, a second tablet and the desk.

Each step is one thing that happens to them, in an order drawn from a seed. Processes
are killed as a power failure does; older copies of database and tablet are put back.
"""

from __future__ import annotations

import re
import shutil
import sqlite3
from contextlib import closing, suppress
from dataclasses import replace
from pathlib import Path
from random import Random

from playwright.sync_api import expect

from tests.fault.ready import OF_A_PROCESS, Ready
from tests.support.bedside import Bedside
from tests.support.browser import Browser, wait_until
from tests.support.server import LiveServer
from tests.support.tablet import Tablet
from tests.support.transport import Unreachable
from webapp.db import connect
from webapp.record import desk
from webapp.record.writer import Writer
from webapp.settings import load

STEPS = 8
WEIGHTS = {
    "taps": 34,
    "kills_server": 8,
    "kills_server_in_a_request": 12,
    "kills_browser": 10,
    "nurse": 12,
    "desk": 7,
    "copies": 7,
    "restores": 6,
    "copies_profile": 4,
    "restores_profile": 4,
}
EVENT = "indication.event"
SEX = "Sex for clinical use"
_ROWS = """async () => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase();
  const rows = await base.transact(["entries"], "readonly", (tx) =>
    result(tx.objectStore("entries").getAll()));
  base.close();
  return rows.map(({ id, digest }) => [id, digest]);
}"""
_STATUS = """(await (async () => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const status = await store.status();
  const fold = await store.fold("%s");
  store.close();
  return { ...status, order: fold.order };
})())"""


class Ward:
    """One ward with one case. `kept`: ids of entries that the screen called kept."""

    def __init__(self, ready: Ready, folder: Path, seed: int) -> None:
        self.chance = Random(seed)
        self.folder = folder
        home, profile = ready.copied(folder)
        self.site = load(home)
        self.server = LiveServer(home)
        # What the browser keeps belongs to this address.
        self.server.port = ready.port
        self.browser = Browser(ready.playwright, profile)
        self.nurse, self.writer = _newly_begun(ready.nurse), ready.desk
        self.kept: set[str] = set()
        self.on_server: set[str] = set()
        self.copies: list[tuple[Path, set[str]]] = []
        self.profiles: list[Path] = []
        self.taken: list[str] = []

    def begins(self) -> None:
        """Open a case on the tablet; the second one writes in it as well."""
        self.server.start()
        self.bedside = Bedside(self.browser, self.server.url)
        self.bedside.starts_new()
        self.record = self.bedside.record
        # Whoever wrote in a case may read it.
        self._nurse(0)
        self.copies_database()

    def database(self):
        """Open the database as it lies on the disk, whoever serves it."""
        return connect(self.site.database)

    def runs(self) -> None:
        """Take the steps of the seed, one after the other."""
        self.begins()
        kinds = self.chance.choices(list(WEIGHTS), list(WEIGHTS.values()), k=STEPS)
        for number, kind in enumerate(kinds):
            self.taken.append(kind)
            getattr(self, f"_{kind}")(number)
            self.notes_server()

    def notes_server(self) -> None:
        """Read what the server has; what it had before must be there."""
        there = self._ids_on_server()
        assert self.on_server <= there, self.on_server - there
        self.on_server = there

    def ends(self) -> None:
        """End every process."""
        self.browser.close()
        self.server.stop()

    # -- Steps -----------------------------------------------------------------
    def _taps(self, number: int) -> None:
        if number % 3 == 0:
            choice = ("Female", "Male")[number % 2]
            self.bedside.picks(SEX, choice)
            self.bedside.keeps("patient.sex", choice.lower())
        else:
            text = f"ALDERMERE {number}"
            self.bedside.types("Family name", text)
            self.bedside.keeps("patient.family_name", text)
        self.kept |= set(self.rows())

    def _kills_server(self, number: int) -> None:
        if self.server.is_running:
            self.server.kill()
        else:
            self.server.start()

    def _kills_server_in_a_request(self, number: int) -> None:
        self.server.start()
        self._taps(number)
        with self.bedside.page.expect_request("**/sync"):
            self.bedside.page.evaluate("dispatchEvent(new Event('online'))")
        self.server.kill()

    def _kills_browser(self, number: int) -> None:
        self.browser.kill()
        if number % 2:
            self.server.start()
        self._reopens()

    def _nurse(self, number: int) -> None:
        self.nurse.adds(self.record, EVENT, {"what": f"of the nurse {number}"})
        with suppress(Unreachable):
            self.nurse.syncs()

    def _desk(self, number: int) -> None:
        row = {"kind": "addendum", "text": f"of the desk {number}"}
        db = self.database()
        with closing(db.conn):
            desk.write(db, self.record, self.writer, "addenda", "add", row)

    def _copies(self, number: int) -> None:
        self.copies_database()

    def copies_database(self) -> None:
        """Copy the database while it is served, by SQLite's own backup."""
        copy = self.folder / f"copy-{len(self.copies)}.db"
        with (
            closing(sqlite3.connect(self.site.database)) as source,
            closing(sqlite3.connect(copy)) as target,
        ):
            source.backup(target)
        self.copies.append((copy, self._ids_on_server(copy)))

    def _restores(self, number: int) -> None:
        self.notes_server()
        self.server.kill()
        copy, there = self.copies[self.chance.randrange(len(self.copies))]
        for end in ("", "-wal", "-shm"):
            Path(f"{self.site.database}{end}").unlink(missing_ok=True)
        shutil.copyfile(copy, self.site.database)
        self.on_server = set(there)
        self.server.start()

    def _copies_profile(self, number: int) -> None:
        self.browser.kill()
        copy = self.folder / f"profile-{len(self.profiles)}"
        shutil.copytree(self.browser.profile, copy, ignore=OF_A_PROCESS)
        self.profiles.append(copy)
        self._reopens()

    def _restores_profile(self, number: int) -> None:
        if not self.profiles:
            self._copies_profile(number)
            self._taps(number)
        copy = self.profiles[self.chance.randrange(len(self.profiles))]
        self.browser.kill()
        shutil.rmtree(self.browser.profile)
        shutil.copytree(copy, self.browser.profile)
        self._reopens(older=True)

    # -- The tablet ------------------------------------------------------------
    def rows(self) -> dict[str, str]:
        """Return id and digest of every own entry on the tablet's disk."""
        return dict(self.bedside.page.evaluate(_ROWS))

    def _reopens(self, older: bool = False) -> None:
        self.bedside = Bedside(self.browser, self.server.url)
        self.bedside.page.goto(f"{self.server.url}/tablet/#/case/{self.record}")
        expect(self.bedside.page.locator("#case")).to_be_visible()
        self.bedside.goes_to("Patient")
        there = set(self.rows())
        if older:
            # What the older copy lacks may have reached the server before the kill.
            self.notes_server()
            self.kept &= there | self.on_server
        assert self.kept <= there | self.on_server, self.kept - there

    def comes_to_rest(self) -> None:
        """Let everybody say everything: server up, both tablets in sync."""
        self.server.start()
        for _ in range(3):
            self.nurse.syncs()
            self._tablet_says_all()
        self.notes_server()

    def _tablet_says_all(self) -> None:
        self.bedside.page.evaluate("dispatchEvent(new Event('online'))")
        status = _STATUS % self.record
        wait_until(
            self.bedside.page,
            f"(({{ unsent, reach }}) => unsent === 0 && reach === 'yes')({status})",
            within_s=90,
        )
        counted = sorted(self._counted_on_server())
        wait_until(
            self.bedside.page,
            f"(({{ order }}) => {counted}.every((id) => order.includes(id)))({status})",
            within_s=90,
        )

    def _ids_on_server(self, database: Path | None = None) -> set[str]:
        with closing(sqlite3.connect(database or self.site.database)) as db:
            return {row[0] for row in db.execute("SELECT id FROM entry")}

    def _counted_on_server(self) -> set[str]:
        with closing(sqlite3.connect(self.site.database)) as db:
            rows = db.execute(
                "SELECT id FROM entry e WHERE record = ? AND 'counted' ="
                " (SELECT ruling FROM ruling r WHERE r.position = e.position"
                "  ORDER BY r.id DESC LIMIT 1)",
                (self.record,),
            )
            return {row[0] for row in rows}

    def told(self, seed: int) -> str:
        """Return how to run this schedule again, and what happened in it."""
        again = f"python -m pytest tests/fault/test_real.py -k 'seed-{seed}'"
        log = re.sub(r"(?s).*(Traceback)", r"\1", self.server.log())[-3000:]
        return "\n".join([again, *self.taken, log])


def _newly_begun(nurse: Tablet) -> Tablet:
    """Return the enrolled tablet with an empty log of its own."""
    writer = Writer(nurse.writer.server_key, nurse.writer.server_spki)
    return replace(
        nurse, writer=writer, own=[], records=[], pulled={}, since={}, set_aside={}
    )
