"""Large batches take turns, and so do notes: two at once hold up everybody else.

The database gives Python's own lock back at every statement, and whoever computes
meanwhile keeps it for a while: two batches side by side wait for each other hundreds
of times, and a small page behind both. One after the other they are done sooner.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from threading import BoundedSemaphore, Lock

from webapp.errors import Busy

# Fewer entries than this are done before anybody notices.
LARGE = 50
# More would take every thread; who is sent away comes again by itself.
MOST_WAITING = 12
MOST_NOTES_WAITING = 12


class Turns:
    """A server's queue of large batches, or of notes. Threads share it."""

    def __init__(self, most_waiting: int = MOST_WAITING) -> None:
        self._places = BoundedSemaphore(most_waiting + 1)
        self._turn = Lock()

    @contextmanager
    def turn(self, entries: int = LARGE) -> Iterator[None]:
        """Work on so many entries when it is their turn. Raises Busy: a full queue.

        Fewer than `LARGE` wait for nobody.
        """
        if entries < LARGE:
            yield
            return
        if not self._places.acquire(blocking=False):
            raise Busy
        try:
            with self._turn:
                yield
        finally:
            self._places.release()
