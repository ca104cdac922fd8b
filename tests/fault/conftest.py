"""Options and fixtures of this folder: one simulated site a worker, a real browser."""

from __future__ import annotations

import pytest

from tests.conftest import SITE_FILE
from tests.support.browser_fixtures import playwright_here  # noqa: F401 - a fixture
from tests.support.simulated_world import Site, make_site
from webapp.settings import load


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let one schedule be run again: `--seed 1234`."""
    parser.addoption("--seed", type=int, help="run the schedule of this seed only")


@pytest.fixture(scope="session")
def simulated_site(tmp_path_factory) -> Site:
    """A site with three tablets; every world of this worker begins as a copy of it."""
    home = tmp_path_factory.mktemp("simulated")
    (home / "wiremark.toml").write_text(SITE_FILE, encoding="utf-8")
    return make_site(load(home))
