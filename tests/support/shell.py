"""The tablet's shell as it lies in a browser's profile, fetched once for many tests.

Its five hundred files cost more than most tests do with them. A profile belongs to an
address: servers stand at the one it was made for, where nobody else stands there.
"""

from __future__ import annotations

import shutil
import socket
from pathlib import Path
from typing import Any

from playwright.sync_api import Playwright

from tests.support.browser import Browser, wait_until
from tests.support.releases import READY
from tests.support.server import LiveServer

# By no page of the tablet: such a page would leave a database with its keys as well.
_REGISTER = """() => navigator.serviceWorker.register(
  "/sw.js", { scope: "/tablet/", updateViaCache: "none" }).then(() => {})"""
# Chromium notes here which process has the profile; what it fetched need not be kept twice.
_LEFT_OUT = shutil.ignore_patterns("Singleton*", "Cache", "Code Cache")


class Shell:
    """A profile with the shell and nothing else, and the port it belongs to."""

    def __init__(self, playwright: Playwright, folder: Path) -> None:
        self._playwright = playwright
        self._profile = folder / "profile"
        home = folder / "home"
        home.mkdir()
        server = LiveServer(home).start()
        made = Browser(playwright, folder / "made")
        page = made.opens(f"{server.url}/static/js/types.js")
        page.evaluate(_REGISTER)
        wait_until(page, READY, within_s=120)
        made.close()
        server.stop()
        self._port = server.port
        shutil.copytree(made.profile, self._profile, ignore=_LEFT_OUT)

    def browser(self, profile: Path, **options: Any) -> Browser:
        """Return a browser on a new profile, which begins as a copy."""
        shutil.copytree(self._profile, profile)
        return Browser(self._playwright, profile, **options)

    def at_its_address(self, server: LiveServer) -> LiveServer:
        """Put a server at the shell's address where that is free; return it."""
        if _is_free(self._port):
            server.port = self._port
        return server


def _is_free(port: int) -> bool:
    with socket.socket() as tried:
        tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind(("127.0.0.1", port))
            tried.listen(1)
        except OSError:
            return False
    return True
