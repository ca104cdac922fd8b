"""Three tablets, a desk, a network and a server in one process, and their schedule."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

from werkzeug.security import generate_password_hash

from tests.support.cast import PASSWORD, SIGNER
from tests.support.simulated_checks import problems_at_the_end
from tests.support.simulated_clock import SimulatedClock, runs_by
from tests.support.simulated_disk import Battery, Disk, TabletDied
from tests.support.simulated_network import SimulatedNetwork
from tests.support.simulated_sayings import said
from tests.support.simulated_server import ServerDied, SimulatedServer
from tests.support.simulated_steps import RECORDS, TABLETS, Step, draw
from tests.support.simulated_tablet import Enrolled, SimulatedTablet
from tests.support.simulated_truth import Truth
from tests.support.tablet import Tablet
from tests.support.transport import InProcess, Unreachable
from webapp.app import create_app
from webapp.db import connect
from webapp.people import accounts, tablets
from webapp.record import desk
from webapp.record.entry import uuid7
from webapp.record.erase import CannotErase
from webapp.settings import Settings

ROUNDS = 8


@dataclass(frozen=True, slots=True)
class Site:
    """A site made once: its application, and the database every world begins with."""

    app: Any
    home: Path
    database: Path
    beginning: Path
    enrolled: tuple[Enrolled, ...]
    person: accounts.Person


def make_site(settings: Settings) -> Site:
    """Make the site: one person, three enrolled tablets, and a copy of that state."""
    app = create_app(settings)
    db = connect(settings.database)
    cheap = partial(generate_password_hash, method="pbkdf2:sha256:1")
    person = accounts.add(db, SIGNER, cheap)
    enrolled = tuple(
        _enrolled(InProcess(app), db, f"tablet {number}") for number in range(TABLETS)
    )
    db.conn.close()
    server = SimulatedServer(app, settings.database)
    server.restarts()
    beginning = server.copies(settings.home / "beginning.db")
    return Site(app, settings.home, settings.database, beginning, enrolled, person)


def _enrolled(transport: InProcess, db: Any, name: str) -> Enrolled:
    _, code = tablets.add(db, name)
    tablet = Tablet.enrols(transport, code)
    key, spki = tablet.writer.server_key, tablet.writer.server_spki
    return Enrolled(name, tablet.token, key, spki, tablet.zone)


class World:
    """One world. Use inside `running`; a step that fails leaves a problem."""

    def __init__(self, site: Site, seed: int) -> None:
        self.site = site
        self.chance = Random(seed)
        self.clock = SimulatedClock()
        self.truth = Truth(site.database)
        self.server = SimulatedServer(site.app, site.database, self.truth.closes)
        self.network = SimulatedNetwork(self.server, self.truth.arrives, self._asks)
        self.desk = desk.Writer(site.person.id, site.person.name, "operator", "UTC")
        self.copies: list[tuple[Path, set[str]]] = [(site.beginning, set())]
        self.busy: set[str] = set()
        self.records: list[str] = []
        self.tablets: list[SimulatedTablet] = []
        self.disks: dict[str, list[Disk]] = {}

    @contextmanager
    def running(self) -> Iterator[World]:
        """Begin: an empty log, three tablets on which nothing was written."""
        with ExitStack() as stack:
            stack.enter_context(runs_by(self.clock, self.chance))
            stack.enter_context(self.server.serving())
            self.server.restores(self.site.beginning)
            stack.callback(self.server.ends)
            stack.callback(self.truth.closes)
            self.records = [uuid7() for _ in range(RECORDS)]
            self.tablets = [self._tablet(one) for one in self.site.enrolled]
            self.disks = {t.name: [t.disk] for t in self.tablets}
            yield self

    def runs(self, steps: list[Step]) -> None:
        """Take the steps, one after the other."""
        for number, step in enumerate(steps):
            self.clock.passes(step.ms)
            getattr(self, f"_{step.kind}")(step, number)

    def heals(self) -> list[str]:
        """Let everybody say everything over a good network; return the problems."""
        self.network.fault = None
        self._all_sync(self.tablets)
        while self.network.held_back:
            self.network.delivers_late(0)
        for _ in range(ROUNDS):
            restless = [one for one in self.tablets if not self._is_at_rest(one)]
            if not restless:
                return problems_at_the_end(self.truth, self.tablets)
            self._all_sync(restless)
        found = problems_at_the_end(self.truth, self.tablets)
        return [*found, "the tablets never come to rest"]

    # -- Steps -----------------------------------------------------------------
    def _write(self, step: Step, number: int) -> None:
        tablet, record = self._whom(step)
        path, op, value = said(tablet.shows(record)["rows"], step.what, number)
        told = partial(self.truth.keeps, is_legal=step.what != "illegal")
        self._sets_battery(tablet, step)
        self._survives(tablet, lambda: tablet.writes(record, path, op, value, told))

    def _sync(self, step: Step, number: int) -> None:
        tablet, _ = self._whom(step)
        self._sets_battery(tablet, step)

        def syncs() -> None:
            for _ in range(step.skip):
                tablet.exchanges()
            self.network.fault = step.fault
            tablet.syncs()

        self._survives(tablet, syncs)

    def _asks_for(self, step: Step, number: int) -> None:
        tablet, record = self._whom(step)
        tablet.asks_for(record)

    def _signs_in(self, step: Step, number: int) -> None:
        tablet, _ = self._whom(step)
        tablet.signs_in(SIGNER.name, PASSWORD)

    def _delivers_late(self, step: Step, number: int) -> None:
        with _lost():
            self.network.delivers_late(step.n)

    def _desk(self, step: Step, number: int) -> None:
        record = self.records[step.n % RECORDS]
        self.server.watch.dies_at = step.n if step.after else None
        with suppress(ServerDied):
            self.server.writes(
                self.desk, record, "addenda", {"kind": "addendum", "text": f"{number}"}
            )
        self.truth.reads()

    def _erases(self, step: Step, number: int) -> None:
        there = sorted(self.truth.on_server & set(self.truth.written))
        if there:
            self.server.watch.dies_at = step.n if step.after else None
            with suppress(ServerDied, CannotErase):
                self.server.erases(self.desk, there[step.n % len(there)])
            self.truth.reads()

    def _copies(self, step: Step, number: int) -> None:
        copy = self.server.copies(self.site.home / f"copy-{len(self.copies)}.db")
        self.copies.append((copy, set(self.truth.on_server)))

    def _restores(self, step: Step, number: int) -> None:
        # Later copies are likelier: a hospital puts back its last one.
        back = min(step.n % 8 // 3, len(self.copies) - 1)
        copy, there = self.copies[len(self.copies) - 1 - back]
        self.server.restores(copy)
        self.truth.on_server = set(there)
        self.truth.reads()

    def _server_dies(self, step: Step, number: int) -> None:
        self.server.left_behind()
        self.server.restarts()
        self.truth.reads()

    def _tablet_copies(self, step: Step, number: int) -> None:
        tablet, _ = self._whom(step)
        self.disks[tablet.name].append(tablet.disk)

    def _tablet_restores(self, step: Step, number: int) -> None:
        tablet, _ = self._whom(step)
        copies = self.disks[tablet.name]
        self.truth.sees(tablet.disk.rows.values())
        tablet.restarts(copies[step.n % len(copies)])

    def _tablet_dies(self, step: Step, number: int) -> None:
        self._whom(step)[0].restarts()

    def _clock(self, step: Step, number: int) -> None:
        tablet, _ = self._whom(step)
        if step.after:
            self.clock.server_ms = step.jump_ms // 10
        else:
            self.clock.tablet_ms[tablet.name] = step.jump_ms

    # -- How -------------------------------------------------------------------
    def _tablet(self, enrolled: Enrolled) -> SimulatedTablet:
        now = partial(self.clock.of_tablet, enrolled.name)
        return SimulatedTablet(enrolled, self.network, self.chance, now, Disk(uuid7()))

    def _whom(self, step: Step) -> tuple[SimulatedTablet, str]:
        return self.tablets[step.tablet], self.records[step.n % RECORDS]

    @staticmethod
    def _sets_battery(tablet: SimulatedTablet, step: Step) -> None:
        tablet.battery = Battery(step.commits, step.after)

    def _survives(self, tablet: SimulatedTablet, does: Any) -> None:
        self.busy.add(tablet.name)
        try:
            with _lost():
                does()
        except TabletDied:
            tablet.restarts()
        finally:
            self.busy.discard(tablet.name)
            tablet.battery = Battery()
            self.network.fault = None
            self.truth.sees(tablet.disk.rows.values())

    def _asks(self, number: int) -> None:
        """Let another tablet exchange in the middle of the request of one."""
        tablet = self.tablets[number]
        if tablet.name not in self.busy:
            with _lost():
                tablet.exchanges()

    def _all_sync(self, tablets: list[SimulatedTablet]) -> None:
        for tablet in tablets:
            tablet.syncs()
            if tablet.is_closed_out:
                tablet.signs_in(SIGNER.name, PASSWORD)
                tablet.syncs()

    def _is_at_rest(self, tablet: SimulatedTablet) -> bool:
        """Return whether it has nothing to say, and heard all there is by now."""
        disk = tablet.disk
        is_quiet = not disk.to_offer() and not disk.tells and not tablet.is_closed_out
        return is_quiet and disk.head == self.truth.head()


def problems_of(site: Site, seed: int, steps: list[Step] | None = None) -> list[str]:
    """Run a schedule, heal, and return what is wrong in the end."""
    with World(site, seed).running() as world:
        try:
            world.runs(draw(seed) if steps is None else steps)
            return world.heals()
        except AssertionError as error:
            return [*world.truth.problems, str(error)]


@contextmanager
def _lost() -> Iterator[None]:
    """Go on after a request that never came to an answer."""
    with suppress(Unreachable):
        yield
