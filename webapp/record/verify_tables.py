"""The database round the log: pages, tables, every row's sum, keys, derived columns."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple
from functools import cache

from sqlite_utils import Database

from webapp import row_sums
from webapp.db import connect, migrate
from webapp.record import records
from webapp.record.keyring import Keyring
from webapp.record.verify_log import UNFOLDABLE, Found


def pages(db: Database) -> Iterator[Found]:
    """Let SQLite check its own pages."""
    for (told,) in db.conn.execute("PRAGMA integrity_check(20)").fetchall():
        if told != "ok":
            yield "pages", str(told), "verify.pages"


def references(db: Database) -> Iterator[Found]:
    """Look for rows that name a row which is not there."""
    for row in db.conn.execute("PRAGMA foreign_key_check").fetchall():
        yield str(row[0]), f"row {row[1]}", "verify.reference"


def schema(db: Database) -> Iterator[Found]:
    """Hold tables, indexes and guards against those of a database made today."""
    wanted, found = _wanted_schema(), _schema(db)
    for name in sorted(wanted.keys() | found.keys()):
        if wanted.get(name) != found.get(name):
            yield "schema", name, "verify.schema"


def rows(db: Database) -> Iterator[Found]:
    """Hold every row that the chain does not cover against its sum."""
    for table in row_sums.summed_tables(db):
        for key in row_sums.changed_rows(db, table):
            yield table, key, "verify.row"
    for table in row_sums.unknown_sums(db):
        yield row_sums.TABLE, table, "verify.row"


def server_keys(db: Database, keyring: Keyring) -> Iterator[Found]:
    """Look whether every key that wraps were made for is here, and is the same."""
    for key_id, spki in db.conn.execute("SELECT id, spki FROM server_key").fetchall():
        key = keyring.get(key_id)
        if key is None or key.spki != spki:
            yield "server_key", str(key_id), "verify.server_key"


def listed(db: Database) -> Iterator[Found]:
    """Make each line of the records list again and compare it with what stands."""
    for record in records.known_ids(db):
        try:
            stands, made = records.standing_and_made(db, record)
        except UNFOLDABLE:
            yield "record", record, "verify.unfoldable"
            continue
        if made is None or (stands is not None and astuple(stands) != astuple(made)):
            yield "record", record, "verify.listed"


@cache
def _wanted_schema() -> dict[str, str]:
    fresh = connect(":memory:")
    migrate(fresh)
    wanted = _schema(fresh)
    fresh.conn.close()
    return wanted


def _schema(db: Database) -> dict[str, str]:
    rows = db.conn.execute(
        "SELECT name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_stat%'"
        " AND sql IS NOT NULL"
    )
    return {str(name): str(sql) for name, sql in rows}
