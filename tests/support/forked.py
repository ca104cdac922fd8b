"""A process that has the product loaded and is forked for each server.

Loading takes longer than most tests need their server for. What comes of a fork is a
process of its own, which is stopped and killed like any other.
"""

from __future__ import annotations

import json
import os
import select
import signal
import socket
import subprocess
import sys
import threading
from contextlib import suppress
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LARGEST = 1 << 20
# Nothing of the loading process is in a request's way: it has no thread and no file open.
_KEEP = """
import importlib, json, os, signal, socket, sys
from webapp import app, serving
for name in app.BLUEPRINTS:
    importlib.import_module(f"webapp.views.{name}")
asked = socket.socket(fileno=int(sys.argv[1]))
# A server that ended is let go of at once: whoever waits for it waits by its descriptor.
signal.signal(signal.SIGCHLD, signal.SIG_IGN)
while True:
    told, files, _, _ = socket.recv_fds(asked, int(sys.argv[2]), 2)
    if not told:
        break
    made = os.fork()
    if made:
        for file in files:
            os.close(file)
        asked.send(str(made).encode())
        continue
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    asked.close()
    listening, log = files
    os.dup2(log, 1)
    os.dup2(log, 2)
    os.close(log)
    told = json.loads(told)
    os.environ.clear()
    os.environ.update(told["env"])
    serving.OPTIONS |= told["options"]
    serving.serve(app.create_app(), sockets=[socket.socket(fileno=listening)])
"""


class Forked:
    """One forked server; has the verbs of a process that was started."""

    def __init__(self, pid: int) -> None:
        self.pid = pid
        # None: it ended before it could be named.
        self._end: int | None = None
        with suppress(ProcessLookupError):
            self._end = os.pidfd_open(pid)

    def poll(self) -> int | None:
        """Return None while it runs."""
        return 0 if self._has_ended(0) else None

    def terminate(self) -> None:
        """Ask it to end."""
        self._sends(signal.SIGTERM)

    def kill(self) -> None:
        """End it at once."""
        self._sends(signal.SIGKILL)

    def wait(self, timeout: float) -> None:
        """Wait until it has ended."""
        if not self._has_ended(timeout):
            raise TimeoutError(f"server {self.pid} does not end")
        if self._end is not None:
            os.close(self._end)
            self._end = None

    def _sends(self, number: int) -> None:
        if self._end is not None:
            with suppress(ProcessLookupError):
                signal.pidfd_send_signal(self._end, number)

    def _has_ended(self, within_s: float) -> bool:
        if self._end is None:
            return True
        ended = select.poll()
        ended.register(self._end, select.POLLIN)
        return bool(ended.poll(within_s * 1000))


class _Keeper:
    """The loaded process; it ends with this one."""

    def __init__(self) -> None:
        self._asks, asked = socket.socketpair()
        self._one_at_a_time = threading.Lock()
        self._process = subprocess.Popen(
            [sys.executable, "-c", _KEEP, str(asked.fileno()), str(LARGEST)],
            cwd=ROOT,
            pass_fds=[asked.fileno()],
        )
        asked.close()

    def forks(self, listening: int, log: int, told: dict[str, object]) -> Forked:
        with self._one_at_a_time:
            socket.send_fds(self._asks, [json.dumps(told).encode()], [listening, log])
            return Forked(int(self._asks.recv(32)))


@cache
def _keeper(process: int) -> _Keeper:
    return _Keeper()


def forked(
    listening: int, log: int, env: dict[str, str], options: dict[str, int]
) -> Forked:
    """Return a server on this listening socket, which writes to this file."""
    return _keeper(os.getpid()).forks(listening, log, {"env": env, "options": options})
