"""The application factory: settings in, one Flask application out."""

from __future__ import annotations

import importlib
import importlib.util

from flask import Flask
from flask_wtf.csrf import CSRFProtect

from webapp import app_db, catch_up, errors, headers, pages
from webapp.clinical import policy
from webapp.db import connect, migrate, writing
from webapp.paths import static_folder
from webapp.record import keyring, log, pinned_limits
from webapp.settings import Settings, load, secret

BLUEPRINTS = (
    *("bedside", "sync", "photo_sync", "desk_auth", "tablets", "review", "notes"),
    *("photos", "coding", "sketches"),
    *("answering", "remarks", "server", "added", "style", "limits"),
)
MAX_BODY_BYTES = 16 * 1024 * 1024

csrf = CSRFProtect()


def create_app(settings: Settings | None = None) -> Flask:
    """Make the application for one site; migrates its database first.

    `settings`: read from the home folder when None. Raises
    UnusableSettings or UnusablePolicy: when the site cannot be run as it is set.
    """
    site = settings or load()
    app = Flask(__name__, static_folder=str(static_folder()), static_url_path="/static")
    app.config.update(
        SETTINGS=site,
        SECRET_KEY=secret(site),
        MAX_CONTENT_LENGTH=MAX_BODY_BYTES,
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=site.is_https,
        # A browser takes a cookie of this name from this host by TLS only.
        SESSION_COOKIE_NAME="__Host-session" if site.is_https else "session",
        TRUSTED_HOSTS=site.names,
        WTF_CSRF_TIME_LIMIT=8 * 3600,
        # Over https the library wants a Referer, which our own policy keeps back;
        # the token is bound to the session either way.
        WTF_CSRF_SSL_STRICT=False,
    )
    # Limits that cannot be used stop the start, not the bedside.
    app.extensions["limits"] = policy.load(site.policy, site.generator_maximum_ma)
    app.extensions["keyring"] = keyring.Keyring(site.home)
    _prepare(app, site)
    csrf.init_app(app)
    app_db.register(app)
    errors.register(app)
    pages.register(app)
    app.context_processor(lambda: {"site": site})
    headers.register(app)
    for name in BLUEPRINTS:
        if importlib.util.find_spec(f"webapp.views.{name}") is None:
            continue
        module = importlib.import_module(f"webapp.views.{name}")
        app.register_blueprint(module.bp)
    return app


def _prepare(app: Flask, site: Settings) -> None:
    """Bring the database up to date and make the first server key known to it."""
    db = connect(site.database)
    migrate(db)
    key = app.extensions["keyring"].current()
    with writing(db):
        db.conn.execute(
            "INSERT INTO server_key (id, spki, made_at) VALUES (?, ?, ?)"
            " ON CONFLICT (id) DO NOTHING",
            (key.id, key.spki, log.utc_now()),
        )
    with writing(db):
        pinned_limits.use(db, app.extensions["limits"], log.utc_now())
    catch_up.begin(site, db, app.extensions["keyring"])
    db.conn.close()
