"""Fixtures of this folder: a real Chromium on a profile of its own."""

from tests.support.browser_fixtures import (  # noqa: F401 - fixtures, found by name
    bedside,
    open_tablet,
    page,
    playwright_here,
    standing_db,
)
from tests.support.shelled_fixtures import (  # noqa: F401 - the same
    bare_browser,
    browser,
    live,
    second_browser,
    shared_browser,
    shell,
    standing,
)

# Whole cases take minutes each: begun last, one of them keeps the others' cores waiting.
LONGEST = (
    "test_main_job_keys.py",
    "test_main_job.py",
    "test_main_job_phone.py",
    "test_main_job_published.py",
)


def pytest_collection_modifyitems(items):
    """Begin with the longest files; otherwise in the order found."""
    place = {name: n for n, name in enumerate(LONGEST)}
    items.sort(key=lambda item: place.get(item.path.name, len(LONGEST)))
