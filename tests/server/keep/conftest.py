"""A site with something in it, and the commands as an administrator runs them."""

import pytest

from tests.support.replies import NAME
from webapp.cli import main


@pytest.fixture
def run(app, site, monkeypatch):
    monkeypatch.setenv("WIREMARK_HOME", str(site.home))
    runner = app.test_cli_runner()

    def wiremark(*words, keys=""):
        return runner.invoke(main, [str(word) for word in words], input=keys)

    return wiremark


@pytest.fixture
def record(tablet):
    """A record of three entries that are on the server."""
    opened = tablet.opens()
    for name in ("ALDERMERE", "ALDERMERE-STRAND", "ALDERMERE"):
        tablet.sets(opened, NAME, name)
    tablet.syncs()
    return opened
