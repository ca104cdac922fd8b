"""One process beside the server that makes notes, so that sync never waits for one."""

from __future__ import annotations

import atexit
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import TypeVar

from webapp.note.added import AddedPaper, build_added
from webapp.note.build import build_note
from webapp.note.model import NoteInput

Told = TypeVar("Told")
_lock = threading.Lock()
_pool: ProcessPoolExecutor | None = None


def render(note: NoteInput) -> bytes:
    """Return the note's PDF, made in the worker; starts it when it is not running.

    A worker that died is replaced and the note tried once more. Raises
    BrokenProcessPool: when the second worker dies too; whatever `build_note` raises.
    """
    return _made(build_note, note)


def render_added(paper: AddedPaper) -> bytes:
    """Return the PDF of what is added after signing, made in the worker; as above."""
    return _made(build_added, paper)


def _made(build: Callable[[Told], bytes], told: Told) -> bytes:
    pool = _running()
    try:
        return pool.submit(build, told).result()
    except BrokenProcessPool:
        _forget(pool)
        return _running().submit(build, told).result()


def stop() -> None:
    """End the worker after the note in hand; the next `render` starts another."""
    global _pool
    with _lock:
        pool, _pool = _pool, None
    if pool is not None:
        pool.shutdown(wait=True, cancel_futures=True)


def live_with_server() -> None:
    """End the worker with the server, however that ended; leave Ctrl-C to it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        # The pool's own pipe stays open in the worker: a server that was killed
        # would leave it waiting for ever.
        parent.join()
        os._exit(0)


def _running() -> ProcessPoolExecutor:
    global _pool
    with _lock:
        if _pool is None:
            # spawn: the server has threads, and a fork would copy their locks.
            _pool = ProcessPoolExecutor(
                max_workers=1,
                mp_context=multiprocessing.get_context("spawn"),
                initializer=live_with_server,
            )
        return _pool


def _forget(broken: ProcessPoolExecutor) -> None:
    global _pool
    with _lock:
        if _pool is broken:
            _pool = None
    broken.shutdown(wait=False)


atexit.register(stop)
