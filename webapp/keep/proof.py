"""Prove a copy before anybody relies on it: pages, references, head, every digest."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlite_utils import Database

from webapp.db import connect, migrate
from webapp.keep.stamp import Stamp
from webapp.paths import migrations_folder
from webapp.record import log
from webapp.record.log import Head
from webapp.record.verify import breaks
from webapp.say import say


class NotProven(Exception):
    """The copy cannot be relied on; the text says where it fails."""


def prove(file: Path, stamp: Stamp) -> None:
    """Read the whole copy and compare it with its stamp. Does not change it.

    Whether the server's keys are there is another question: they are kept apart.

    Raises NotProven: naming the first thing that does not fit.
    """
    try:
        with closing(_read_only(file)) as connection:
            _check_pages(connection)
            db = Database(connection)
            _check_version(db)
            _check_head(db, stamp)
            if _lacking(db):
                _prove_moved_on(db, file)
            else:
                _check_log(db)
    except sqlite3.DatabaseError as error:
        raise NotProven(say("keep.unreadable", because=error)) from error


def _read_only(file: Path) -> sqlite3.Connection:
    # Immutable: nobody writes to it, so no file appears beside it.
    connection = sqlite3.connect(f"{file.as_uri()}?immutable=1", uri=True)
    connection.row_factory = sqlite3.Row
    return connection


def _check_pages(connection: sqlite3.Connection) -> None:
    (told,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    if told != "ok":
        raise NotProven(say("keep.unreadable", because=told))
    if (row := connection.execute("PRAGMA foreign_key_check").fetchone()) is not None:
        raise NotProven(say("keep.unreadable", because=f"{row[0]}, row {row[1]}"))


def _check_head(db: Database, stamp: Stamp) -> None:
    (count,) = db.conn.execute("SELECT count(*) FROM entry").fetchone()
    found = log.head(db)
    if (count, found) != (stamp.entries, Head(stamp.position, stamp.chain)):
        raise NotProven(say("keep.head_differs"))


def _check_version(db: Database) -> None:
    unknown = _applied(db) - _shipped()
    if unknown:
        raise NotProven(say("keep.newer", names=", ".join(sorted(unknown))))


def is_of_this_version(db: Database) -> bool:
    """Return whether a database went through exactly the migrations shipped here."""
    return _applied(db) == _shipped()


def _lacking(db: Database) -> set[str]:
    return _shipped() - _applied(db)


def _applied(db: Database) -> set[str]:
    rows = db.conn.execute("SELECT name FROM _sqlite_migrations")
    return {str(row[0]) for row in rows}


def _shipped() -> set[str]:
    return {file.stem for file in migrations_folder().glob("m[0-9]*.py")}


def _prove_moved_on(db: Database, file: Path) -> None:
    """Prove a copy of an older version as this version will hold it."""
    beside = file.with_name(file.name + ".moved")
    try:
        with closing(connect(beside).conn) as target:
            db.conn.backup(target)
            moved = connect(beside)
            migrate(moved)
            _check_log(moved)
            moved.conn.close()
    finally:
        for end in ("", "-wal", "-shm"):
            beside.with_name(beside.name + end).unlink(missing_ok=True)


def _check_log(db: Database) -> None:
    for found in breaks(db):
        what = f"{found.where}: {found.what}"
        raise NotProven(say("keep.log_breaks", what=what))
