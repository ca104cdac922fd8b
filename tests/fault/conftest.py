"""Options and fixtures of this folder: one simulated site a worker, a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.conftest import SITE_FILE
from tests.support.browser_fixtures import playwright_here  # noqa: F401 - a fixture
from tests.support.simulated_world import Site, make_site
from webapp.app_db import close_held
from webapp.settings import load

OF_SEEDS = "test_nothing_kept_is_lost_doubled_or_altered"
MEMORY = Path("/dev/shm")  # noqa: S108 - made and removed here, under a random name


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let one schedule be run again: `--seed 1234`."""
    parser.addoption("--seed", type=int, help="run the schedule of this seed only")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how long the simulated schedules took, all workers together."""
    told = [r for r in terminalreporter.stats.get("passed", []) if OF_SEEDS in r.nodeid]
    runs = [r for r in told if r.when == "call"]
    if runs:
        work = sum(r.duration for r in runs)
        clock = max(r.stop for r in runs) - min(r.start for r in runs)
        terminalreporter.write_line(
            f"simulated schedules: {len(runs)} shares in {clock:.0f} s"
            f" ({work:.0f} s of the workers)"
        )


@pytest.fixture(scope="session")
def simulated_site() -> Iterator[Site]:
    """A site with three tablets; every world of this worker begins as a copy of it.

    It lies in memory where the machine has such a folder: what the schedules end at
    are statements and commits, not the disk's own work.
    """
    with TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as folder:
        home = Path(folder)
        (home / "wiremark.toml").write_text(SITE_FILE, encoding="utf-8")
        yield make_site(load(home))
        close_held()
