"""An enrolled ward, made once a worker: each schedule begins as a copy of it."""

from __future__ import annotations

import shutil
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from tests.conftest import SITE_FILE
from tests.support.browser import Browser
from tests.support.cast import SIGNER, hashed_once
from tests.support.server import LiveServer
from tests.support.tablet import Tablet
from tests.support.transport import OverHttp
from webapp.db import connect, migrate
from webapp.people import accounts, tablets
from webapp.record.desk import Writer
from webapp.settings import load

# Chromium notes here which process has the profile; that one is dead.
OF_A_PROCESS = shutil.ignore_patterns("Singleton*")
READY = "Ready without network"


@dataclass(frozen=True, slots=True)
class Ready:
    """Home and profile as they lie on the disk, at rest. `port`: where both belong.

    `nurse`: the second tablet, which has written nothing.
    """

    playwright: Any
    home: Path
    profile: Path
    port: int
    nurse: Tablet
    desk: Writer

    def copied(self, folder: Path) -> tuple[Path, Path]:
        """Copy home and profile into a folder; return where they are."""
        home, profile = folder / "home", folder / "profile"
        shutil.copytree(self.home, home)
        shutil.copytree(self.profile, profile, ignore=OF_A_PROCESS)
        return home, profile


def make_ready(playwright: Any, folder: Path) -> Ready:
    """Make a site with a person and two enrolled tablets, one of them a browser."""
    home, profile = folder / "home", folder / "profile"
    home.mkdir()
    (home / "wiremark.toml").write_text(SITE_FILE, encoding="utf-8")
    site = load(home)
    db = connect(site.database)
    with closing(db.conn):
        migrate(db)
        person = accounts.add(db, SIGNER, hashed_once)
        codes = [tablets.add(db, name)[1] for name in ("tablet 1", "tablet 2")]
    server, browser = LiveServer(home).start(), Browser(playwright, profile)
    try:
        nurse = Tablet.enrols(OverHttp(server.url), codes[1])
        _enrols(browser, server.url, codes[0])
    finally:
        browser.close()
        server.stop()
    writer = Writer(person.id, person.name, "operator", site.zone)
    return Ready(playwright, home, profile, server.port, nurse, writer)


def _enrols(browser: Browser, url: str, code: str) -> None:
    page = browser.opens(f"{url}/tablet/enrol")
    expect(page.locator(".enrol-ready")).to_contain_text(READY)
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Enrol").click()
    expect(page.locator("#start-strip")).to_contain_text(READY)
