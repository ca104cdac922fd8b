"""A real server in its own process, which tests stop, kill and start again."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
from pathlib import Path

from tests.support.forked import ROOT, Forked, forked

# The parent listens before the child runs, so nobody needs to ask whether it is up:
# a connection waits in the socket's queue until the child takes it.
_SERVE = """
import json, os, socket, sys
from webapp import serving
from webapp.app import create_app
# A small number: select() takes none above 1,023, and a long test run holds many files.
listening = socket.socket(fileno=os.dup(int(sys.argv[1])))
serving.OPTIONS |= json.loads(sys.argv[2])
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
        self._process: subprocess.Popen[bytes] | Forked | None = None

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
        log = (self.home / "server.log").open("ab")
        env = {**os.environ, "WIREMARK_HOME": str(self.home)}
        options = {"threads": self.threads} if self.threads else {}
        begin = forked if self.root == ROOT else self._loaded
        self._process = begin(listening.fileno(), log.fileno(), env, options)
        log.close()
        listening.close()
        return self

    def _loaded(
        self, listening: int, log: int, env: dict[str, str], options: dict[str, int]
    ) -> subprocess.Popen[bytes]:
        """Start a process that loads the product from the folder it runs from."""
        return subprocess.Popen(
            [sys.executable, "-c", _SERVE, str(listening), json.dumps(options)],
            cwd=self.root,
            env=env,
            pass_fds=[listening],
            stdout=log,
            stderr=log,
        )

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
