"""Fixtures that every test may use: a site, its application, a server, the cast."""

from __future__ import annotations

import pytest

from tests.support.cast import Cast
from tests.support.server import LiveServer
from tests.support.tablet import Tablet
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect, migrate
from webapp.settings import Settings, load

SITE_FILE = """
hospital = "Example Harbour Hospital"
facility = "EHH"
zone = "Europe/Oslo"
"""


@pytest.fixture
def site(tmp_path) -> Settings:
    """The settings of an invented hospital, with a home of its own."""
    home = tmp_path / "home"
    home.mkdir()
    (home / "wiremark.toml").write_text(SITE_FILE, encoding="utf-8")
    return load(home)


@pytest.fixture
def app(site):
    """The application, on an empty database."""
    made = create_app(site)
    made.config["TESTING"] = True
    yield made
    close_held()


@pytest.fixture
def db(site):
    """A connection of the test's own to the site's database."""
    found = connect(site.database)
    migrate(found)
    yield found
    found.conn.close()


@pytest.fixture
def client(app):
    """A browser in which nobody is signed in."""
    return app.test_client()


@pytest.fixture
def cast(app, db) -> Cast:
    """Everybody."""
    return Cast(app, db)


@pytest.fixture
def tablet(cast) -> Tablet:
    """An enrolled tablet."""
    return cast.tablet()


@pytest.fixture
def other_tablet(cast) -> Tablet:
    """A second enrolled tablet, which has not seen what the first wrote."""
    return cast.tablet()


@pytest.fixture
def live(site):
    """The real server of the same site, running until the test ends."""
    server = LiveServer(site.home)
    server.start()
    yield server
    server.stop()
