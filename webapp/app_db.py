"""What a request works with: database, settings, limits."""

from __future__ import annotations

import threading

from flask import Flask, current_app, g
from sqlite_utils import Database

from webapp.clinical.policy import Policy
from webapp.db import connect
from webapp.settings import Settings

_THREAD = threading.local()


def get_db() -> Database:
    """Return this thread's connection to the application's database.

    Kept for the thread's life: opening one costs more than most requests.
    """
    if "db" not in g:
        path = str(settings().database)
        held: dict[str, Database] = _THREAD.__dict__.setdefault("held", {})
        if path not in held:
            held[path] = connect(path)
        g.db = held[path]
    db: Database = g.db
    return db


def close_held() -> None:
    """Close this thread's connections, as before its databases go away."""
    held: dict[str, Database] = _THREAD.__dict__.pop("held", {})
    for db in held.values():
        db.conn.close()


def settings() -> Settings:
    """Return the settings of the running application."""
    found: Settings = current_app.config["SETTINGS"]
    return found


def limits() -> Policy:
    """Return the hospital's limits, as checked when the application started."""
    found: Policy = current_app.extensions["limits"]
    return found


def register(app: Flask) -> None:
    """Leave no transaction open behind a request that failed half-way."""

    @app.teardown_appcontext
    def roll_back(_: BaseException | None) -> None:
        db: Database | None = g.pop("db", None)
        if db is not None and db.conn.in_transaction:
            db.conn.execute("ROLLBACK")
