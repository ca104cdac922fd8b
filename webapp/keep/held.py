"""Who works in a home: servers share it, a restore takes it alone."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from webapp.keep.files import MARKER_FILE
from webapp.say import say

LOCK_FILE = "serving.lock"


class Held(Exception):
    """The home cannot be worked in now; the text says why."""


@contextmanager
def holding(home: Path) -> Iterator[None]:
    """Serve from this home for the block. The lock ends with the process, however.

    Raises Held: while a restore is under way, or when one broke off half-way.
    """
    with _locked(home, fcntl.LOCK_SH, "keep.restore_under_way"):
        if (home / MARKER_FILE).exists():
            raise Held(say("keep.restore_broke_off", home=home))
        yield


@contextmanager
def alone(home: Path) -> Iterator[None]:
    """Keep servers out of this home for the block. Raises Held: one serves from it."""
    with _locked(home, fcntl.LOCK_EX, "keep.served"):
        yield


@contextmanager
def _locked(home: Path, how: int, refused: str) -> Iterator[None]:
    file = os.open(home / LOCK_FILE, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        try:
            fcntl.flock(file, how | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise Held(say(refused, home=home)) from error
        yield
    finally:
        os.close(file)
