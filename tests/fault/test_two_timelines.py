"""A tablet and its server, each put back to an older copy: a number is no answer.

After that the server may hold as many entries of a log as the tablet wrote, and yet
not the same ones; the tablet offers every entry again until each is answered by its id.
"""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.fault.ready import OF_A_PROCESS
from tests.support.browser import Browser, wait_until
from tests.support.syncing import EVENT, BedsideTablet


class Site:
    """A server and its database file, which copies are made of and put back."""

    def __init__(self, live, database: Path, folder: Path) -> None:
        self.live, self.database, self.folder = live, database, folder

    def copies(self, name: str) -> Path:
        copy = self.folder / f"{name}.db"
        with (
            closing(sqlite3.connect(self.database)) as source,
            closing(sqlite3.connect(copy)) as target,
        ):
            source.backup(target)
        return copy

    def puts_back(self, copy: Path) -> None:
        self.live.kill()
        for end in ("", "-wal", "-shm"):
            Path(f"{self.database}{end}").unlink(missing_ok=True)
        shutil.copyfile(copy, self.database)
        self.live.start()

    def ids(self) -> set[str]:
        with closing(sqlite3.connect(self.database)) as db:
            return {row[0] for row in db.execute("SELECT id FROM entry")}


@pytest.fixture
def tablets_browser(playwright_here, tmp_path):
    """The tablet's browser, on a profile of its own."""
    made = Browser(playwright_here, tmp_path / "profile")
    yield made
    made.close()


def test_what_was_kept_between_two_restores_arrives(
    tablets_browser, live, db, site, tmp_path
):
    place = Site(live, site.database, tmp_path)
    tablet = BedsideTablet(tablets_browser, live, db)
    record = tablet.new_record()
    tablet.syncs_now()
    empty = place.copies("empty")
    tablets_browser.kill()
    profile = tablets_browser.profile
    shutil.copytree(profile, tmp_path / "older", ignore=OF_A_PROCESS)

    tablet = BedsideTablet(tablets_browser, live)
    first = tablet.appends(record, EVENT, {"what": "first"}, op="add")
    tablet.wait_until_sent()
    with_first = place.copies("with-first")

    tablets_browser.kill()
    shutil.rmtree(profile)
    shutil.copytree(tmp_path / "older", profile)
    place.puts_back(empty)
    tablet = BedsideTablet(tablets_browser, live)
    second = tablet.appends(record, EVENT, {"what": "second"}, op="add")
    tablet.wait_until_sent()
    assert place.ids() == {second["id"]}

    place.puts_back(with_first)
    tablet.syncs_now()
    wait_until(tablet.page, "(await store.status()).unsent === 0")
    assert place.ids() == {first["id"], second["id"]}
    wait_until(tablet.page, f"(await store.fold({record!r})).order.length === 2")
    assert tablet.status()["conflicts"] == []
