"""Fixtures of this folder: a real Chromium on a profile of its own."""

from tests.support.browser_fixtures import (  # noqa: F401 - fixtures, found by name
    bedside,
    browser,
    open_tablet,
    page,
    playwright_here,
    second_browser,
    shared_browser,
    standing,
    standing_db,
)
