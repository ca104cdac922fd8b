"""The real application and its real database file, in a process that may die.

A death keeps the files as they lie at that statement: the connection is thrown away,
and the next start opens what is on the disk. Nothing here sleeps or starts a thread.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest.mock import patch

from sqlite_utils import Database

from tests.support.transport import Reply
from webapp import app_db
from webapp.db import connect
from webapp.record import desk, erase
from webapp.record.records import refresh_stale

_FILES = ("", "-wal")


class ServerDied(BaseException):
    """The process ended here: no handler of the application may catch it."""


@dataclass
class Watch:
    """What shall happen at a statement, counted from 0 over one request.

    `dies_at`: the statement to die at, before it runs or (`after`) when it has run; of
    many rows at once only `rows` go in before. `calls_at`: run `calls` before the
    first statement from there on that stands outside a transaction.
    """

    dies_at: int | None = None
    after: bool = False
    rows: int = 0
    calls_at: int | None = None
    calls: Callable[[], None] | None = None
    count: int = 0


class WatchedConnection:
    """A connection whose process dies when its watch says so."""

    def __init__(self, real: sqlite3.Connection, server: SimulatedServer) -> None:
        self._real = real
        self._server = server
        self.is_dead = False

    def __getattr__(self, name: str) -> Any:
        if self.is_dead and name != "close":
            raise ServerDied
        return getattr(self._real, name)

    def execute(self, sql: str, *parameters: Any) -> sqlite3.Cursor:
        """Run a statement, unless the process dies of it."""
        is_last = self._comes_to()
        if is_last and not self._server.watch.after:
            self._dies()
        cursor = self._real.execute(sql, *parameters)
        if is_last:
            self._dies()
        return cursor

    def executemany(self, sql: str, rows: Iterable[Any]) -> sqlite3.Cursor:
        """Run a statement for many rows, or for some of them before the end."""
        is_last, told = self._comes_to(), list(rows)
        if is_last and not self._server.watch.after:
            self._real.executemany(sql, told[: self._server.watch.rows])
            self._dies()
        cursor = self._real.executemany(sql, told)
        if is_last:
            self._dies()
        return cursor

    def _comes_to(self) -> bool:
        if self.is_dead:
            raise ServerDied
        watch = self._server.watch
        is_free = not self._real.in_transaction
        if watch.calls and is_free and watch.count >= (watch.calls_at or 0):
            calls, watch.calls = watch.calls, None
            self._server.meanwhile(calls)
        watch.count += 1
        return watch.dies_at == watch.count - 1

    def _dies(self) -> None:
        self.is_dead = True
        self._server.deaths += 1
        self._server.left_behind()
        # Closing tidies the files up, hence after they were kept as they lie.
        self._real.close()
        raise ServerDied


class SimulatedServer:
    """One application on one database file. Use inside `serving()`.

    `before_start`: closes whatever else has the file open.
    """

    def __init__(
        self, app, database: Path, before_start: Callable[[], None] = lambda: None
    ) -> None:
        self._client = app.test_client(use_cookies=False)
        self._before_start = before_start
        self.database = database
        self.watch = Watch()
        self.deaths = 0
        self._left: dict[str, bytes] | None = None

    def serving(self):
        """Return a context in which the application works on watched connections."""
        return patch.object(app_db, "connect", self._connect)

    def post(self, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        """Post to the application. Raises ServerDied; the next post finds it up."""
        try:
            answer = self._client.post(path, data=body, headers=headers)
        except ServerDied:
            self.restarts()
            raise
        finally:
            self.watch = Watch()
        return Reply(answer.status_code, answer.get_json(silent=True))

    def writes(self, writer: desk.Writer, record: str, path: str, value: Any) -> None:
        """Add a row at the desk. Raises ServerDied."""
        self._at_the_desk(lambda db: desk.write(db, record, writer, path, "add", value))

    def erases(self, writer: desk.Writer, entry: str) -> None:
        """Erase an entry at the desk. Raises ServerDied, CannotErase."""
        self._at_the_desk(lambda db: erase.erase(db, entry, writer, "asked for"))

    def _at_the_desk(self, does: Callable[[Database], object]) -> None:
        db = self._connect(self.database)
        try:
            does(db)
        except ServerDied:
            self.restarts()
            raise
        finally:
            self.watch = Watch()
            db.conn.close()

    def meanwhile(self, calls: Callable[[], None]) -> None:
        """Let another request be answered in the middle of this one."""
        outer, self.watch = self.watch, Watch()
        try:
            calls()
        finally:
            self.watch = outer

    def left_behind(self) -> None:
        """Keep the files as the dying process leaves them."""
        files = {end: Path(f"{self.database}{end}") for end in _FILES}
        self._left = {end: f.read_bytes() for end, f in files.items() if f.exists()}

    def restarts(self) -> None:
        """Start again on what is on the disk, as the product does.

        But for migrations: every copy here has the tables of today.
        """
        self._before_start()
        app_db.close_held()
        if self._left is not None:
            self._put(self._left)
            self._left = None
        db = connect(self.database)
        with closing(db.conn):
            refresh_stale(db)

    def copies(self, to: Path) -> Path:
        """Copy the database as it stands, by SQLite's own backup; return the copy."""
        with (
            closing(sqlite3.connect(self.database)) as source,
            closing(sqlite3.connect(to)) as target,
        ):
            source.backup(target)
        return to

    def restores(self, copy: Path) -> None:
        """Put an older copy in the place of the database, and start on it."""
        self._before_start()
        app_db.close_held()
        self._put({"": copy.read_bytes()})
        self.restarts()

    def _put(self, files: dict[str, bytes]) -> None:
        for end in ("", "-wal", "-shm"):
            Path(f"{self.database}{end}").unlink(missing_ok=True)
        for end, raw in files.items():
            Path(f"{self.database}{end}").write_bytes(raw)

    def _connect(self, path: Path | str) -> Database:
        db = connect(path)
        db.conn = WatchedConnection(db.conn, self)
        return db

    def ends(self) -> None:
        """Close what is open."""
        app_db.close_held()
