"""The yardstick: the same entries replicated to a document database's server.

`modules` is a folder outside the repository, filled once with
`npm install pouchdb@9 express-pouchdb@4 pouchdb-adapter-memory@9 express@4`.
"""

from __future__ import annotations

import json
import socket
import subprocess
from pathlib import Path
from typing import Any

from tests.bench.rounds import Taken, cpu_s

HERE = Path(__file__).resolve().parent


def replicate(modules: Path, work: Path, file: Path, batch: int) -> Taken:
    """Replicate the documents of `file` into an empty folder; return what it took."""
    data = work / "documents"
    data.mkdir(parents=True)
    port = _free_port()
    server = _node(modules, "pouch_server.mjs", str(port), str(data), cwd=data)
    try:
        # It says one line once it listens.
        if not server.stdout.readline():
            raise RuntimeError(f"the yardstick's server ended: {server.wait()}")
        cpu_before = cpu_s(server.pid)
        url = f"http://127.0.0.1:{port}/bench"
        client = _node(
            modules, "pouch_client.mjs", url, str(file), str(batch), cwd=data
        )
        told, _ = client.communicate(timeout=600)
        if client.returncode:
            raise RuntimeError(f"the yardstick's client ended: {client.returncode}")
        said = json.loads(told.splitlines()[-1])
        return Taken(said["seconds"], said["cpu_s"] + cpu_s(server.pid) - cpu_before)
    finally:
        server.terminate()
        server.communicate(timeout=30)


def _node(modules: Path, script: str, *arguments: str, cwd: Path) -> Any:
    return subprocess.Popen(
        ["node", str(HERE / script), str(modules), *arguments],
        cwd=cwd,
        stdout=subprocess.PIPE,
        text=True,
    )


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])
