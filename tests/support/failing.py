"""A connection that counts its statements, and fails or is watched at one of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial

import pytest

Watch = Callable[[str], None]


class Failed(Exception):
    """The failure that the test asked for."""


class Watched(sqlite3.Connection):
    """Calls `watch` after each statement it ran, with the statement's text."""

    watch: Watch | None = None

    def execute(self, sql, *rest):
        return self._told(sql, super().execute(sql, *rest))

    def executemany(self, sql, *rest):
        return self._told(sql, super().executemany(sql, *rest))

    def _told(self, sql, found):
        if Watched.watch is not None:
            Watched.watch(sql)
        return found


@contextmanager
def watched(watch: Watch) -> Iterator[None]:
    """Let every connection opened in the block call `watch` after each statement."""
    opens = partial(sqlite3.connect, factory=Watched)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sqlite3, "connect", opens)
        patch.setattr(Watched, "watch", staticmethod(watch))
        yield


class FailsAfter:
    """A watch that raises once `number` statements that `fits` have run."""

    def __init__(self, number: int, fits: Callable[[str], bool] = lambda _: True):
        self.number, self.fits, self.seen = number, fits, 0

    def __call__(self, sql: str) -> None:
        if not self.fits(sql):
            return
        self.seen += 1
        if self.seen == self.number:
            raise Failed(sql)


def is_write(sql: str) -> bool:
    """Return whether a statement changes rows."""
    return sql.lstrip().split(" ", 1)[0].upper() in ("INSERT", "UPDATE", "DELETE")
