"""The fixtures of a server and its browsers, in which the tablet's shell is kept already.

They stand in the place of those of the same name; `bare_browser` has nothing kept.
"""

from __future__ import annotations

import pytest

from tests.support.browser import Browser
from tests.support.server import LiveServer
from tests.support.shell import Shell


@pytest.fixture(scope="session")
def shell(playwright_here, tmp_path_factory):
    """The shell, fetched once by each worker."""
    return Shell(playwright_here, tmp_path_factory.mktemp("shell"))


@pytest.fixture
def browser(shell, tmp_path):
    """A tablet's browser: what it keeps is on disk."""
    made = shell.browser(tmp_path / "profile")
    yield made
    made.close()


@pytest.fixture
def second_browser(shell, tmp_path):
    """Another machine's browser."""
    made = shell.browser(tmp_path / "second-profile")
    yield made
    made.close()


@pytest.fixture
def bare_browser(playwright_here, tmp_path):
    """A browser that has never been here."""
    made = Browser(playwright_here, tmp_path / "bare-profile")
    yield made
    made.close()


@pytest.fixture
def live(shell, site):
    """The real server of the site, running until the test ends."""
    server = shell.at_its_address(LiveServer(site.home)).start()
    yield server
    server.stop()


@pytest.fixture(scope="module")
def standing(shell, tmp_path_factory):
    """A server for tests that only need its files, shared by a module."""
    home = tmp_path_factory.mktemp("home")
    server = shell.at_its_address(LiveServer(home)).start()
    yield server
    server.stop()


@pytest.fixture(scope="module")
def shared_browser(shell, tmp_path_factory):
    """A browser shared by a module, for tests that bring their own database name."""
    made = shell.browser(tmp_path_factory.mktemp("profile") / "shared")
    yield made
    made.close()
