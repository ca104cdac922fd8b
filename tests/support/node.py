"""Run the tablet's modules under node, and install what checks them."""

from __future__ import annotations

import fcntl
import json
import subprocess
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from typing import Any

from webapp.say import SAY

CHECKS = Path(__file__).resolve().parents[1] / "js"
_MARK = CHECKS / "node_modules" / ".lock-sha256"


def ensure_modules() -> Path:
    """Install what tests/js/package-lock.json names, once; return node_modules.

    Does nothing when the installed packages are those of the lock file. A second
    test process waits for the first.
    """
    lock = CHECKS / "package-lock.json"
    with (CHECKS / "package.json").open("rb") as guard:
        fcntl.flock(guard, fcntl.LOCK_EX)
        # Not by its time: a new checkout has new times, and installing takes the folder
        # away from whoever works with it.
        wanted = sha256(lock.read_bytes()).hexdigest()
        if not _MARK.exists() or _MARK.read_text(encoding="ascii") != wanted:
            command = ["npm", "ci", "--no-audit", "--no-fund", "--silent"]
            subprocess.run(command, cwd=CHECKS, check=True)
            _MARK.write_text(wanted, encoding="ascii")
    return CHECKS / "node_modules"


def call(module: str, function: str, cases: Iterable[list[Any]]) -> list[Any]:
    """Return what `function` of a module under static/js gives for each argument list.

    `module`: "form/kinds.js", or "./reading.mjs" for one beside the runner. One node
    process for all cases. What threw gives {"threw": message}.
    """
    asked = {"module": module, "function": function, "cases": list(cases), "say": SAY}
    done = subprocess.run(
        ["node", "vectors.mjs"],
        cwd=CHECKS,
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    results: list[Any] = json.loads(done.stdout)
    return results
