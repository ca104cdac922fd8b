"""A real server in its own process, which tests stop, kill and start again."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# The parent listens before the child runs, so nobody needs to ask whether it is up:
# a connection waits in the socket's queue until the child takes it.
_SERVE = """
import os, socket, sys
from webapp import serving
from webapp.app import create_app
# A small number: select() takes none above 1,023, and a long test run holds many files.
listening = socket.socket(fileno=os.dup(int(sys.argv[1])))
serving.OPTIONS |= {"threads": int(sys.argv[2])} if len(sys.argv) > 2 else {}
serving.serve(create_app(), sockets=[listening])
"""


class LiveServer:
    """The product's server on 127.0.0.1; it keeps its port over a stop and a start.

    `root`: the folder it runs from, when it is not this checkout; `threads`: when not
    as many as the product has.
    """

    def __init__(
        self, home: Path, root: Path = ROOT, threads: int | None = None
    ) -> None:
        self.threads = threads
        self.home = home
        self.root = root
        self.port = 0
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        """Return the server's address, without a slash at the end."""
        return f"http://127.0.0.1:{self.port}"

    @property
    def is_running(self) -> bool:
        """Return whether the process is there."""
        return self._process is not None and self._process.poll() is None

    @property
    def pid(self) -> int:
        """Return the number of the running process."""
        assert self._process is not None, "not started"
        return self._process.pid

    def start(self) -> LiveServer:
        """Start serving; done twice it does nothing."""
        if self.is_running:
            return self
        listening = socket.socket()
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(("127.0.0.1", self.port))
        listening.listen(128)
        self.port = listening.getsockname()[1]
        threads = [str(self.threads)] if self.threads else []
        log = (self.home / "server.log").open("ab")
        self._process = subprocess.Popen(
            [sys.executable, "-c", _SERVE, str(listening.fileno()), *threads],
            cwd=self.root,
            env={**os.environ, "WIREMARK_HOME": str(self.home)},
            pass_fds=[listening.fileno()],
            stdout=log,
            stderr=log,
        )
        log.close()
        listening.close()
        return self

    def stop(self) -> None:
        """Stop serving, and wait until nobody listens."""
        self._end("terminate")

    def kill(self) -> None:
        """Stop as a power failure does."""
        self._end("kill")

    def log(self) -> str:
        """Return what the process wrote."""
        return (self.home / "server.log").read_text(encoding="utf-8")

    def _end(self, how: str) -> None:
        if self._process is not None:
            getattr(self._process, how)()
            self._process.wait(timeout=30)
            self._process = None
