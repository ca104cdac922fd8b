"""Fixtures for whoever needs a real Chromium; a folder's conftest imports them."""

from __future__ import annotations

from functools import cache

import pytest
from playwright.sync_api import Playwright, expect, sync_playwright

from tests.support.bedside import Bedside
from tests.support.browser import Browser
from tests.support.server import LiveServer
from webapp.db import connect, migrate
from webapp.settings import DATABASE_FILE

# A condition is waited for, not timed: two cores may carry much else.
expect.set_options(timeout=40_000)


@cache
def _started(config: pytest.Config) -> Playwright:
    # Two folders' conftests name the fixture, and one process takes only one Playwright.
    playwright = sync_playwright().start()
    config.add_cleanup(playwright.stop)
    return playwright


@pytest.fixture(scope="session")
def playwright_here(request):
    """Playwright, started once."""
    return _started(request.config)


@pytest.fixture
def browser(playwright_here, tmp_path):
    """A tablet's browser: what it keeps is on disk."""
    made = Browser(playwright_here, tmp_path / "profile")
    yield made
    made.close()


@pytest.fixture
def second_browser(playwright_here, tmp_path):
    """Another machine's browser."""
    made = Browser(playwright_here, tmp_path / "second-profile")
    yield made
    made.close()


@pytest.fixture(scope="module")
def standing(tmp_path_factory):
    """A server for tests that only need its files, shared by a module."""
    server = LiveServer(tmp_path_factory.mktemp("home")).start()
    yield server
    server.stop()


@pytest.fixture
def standing_db(standing):
    """A connection of the test's own to the shared server's database."""
    found = connect(standing.home / DATABASE_FILE)
    migrate(found)
    yield found
    found.conn.close()


@pytest.fixture(scope="module")
def shared_browser(playwright_here, tmp_path_factory):
    """A browser shared by a module, for tests that bring their own database name."""
    made = Browser(playwright_here, tmp_path_factory.mktemp("profile"))
    yield made
    made.close()


@pytest.fixture
def page(standing, shared_browser):
    """A bare page of our own origin, from which any module can be imported."""
    opened = shared_browser.opens(f"{standing.url}/static/js/types.js")
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def open_tablet(standing, shared_browser):
    """The tablet's page, opened once for the tests of a module."""
    return Bedside(shared_browser, standing.url)


@pytest.fixture
def bedside(open_tablet):
    """The tablet on Start; ends with no error told and no request failed."""
    open_tablet.browser.problems.clear()
    open_tablet.failed.clear()
    open_tablet.goes_home()
    yield open_tablet
    assert open_tablet.problems == []
    assert open_tablet.failed == []
