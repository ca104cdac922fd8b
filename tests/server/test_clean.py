"""The whole tree passes its checkers, with the settings of pyproject.toml and tests/js.

A checker that cannot be started fails here too: nothing is passed over.
"""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support import node

ROOT = Path(__file__).resolve().parents[2]
PYTHON_CHECKS = {
    "ruff finds nothing": ["ruff", "check", "--no-cache", "."],
    "ruff would format nothing": ["ruff", "format", "--no-cache", "--check", "."],
    "mypy finds nothing": ["mypy", "--no-incremental"],
    "bandit finds nothing grave": ["bandit", "-q", "-r", "webapp", "-lll"],
}


def passes(command: list[str], where: Path) -> None:
    """Run a checker; fail with all it said when it did not pass."""
    done = subprocess.run(
        command, cwd=where, capture_output=True, text=True, check=False
    )
    if done.returncode != 0:
        said = f"{' '.join(command)}\n{done.stdout}\n{done.stderr}"
        pytest.fail(said, pytrace=False)


@pytest.mark.parametrize("command", PYTHON_CHECKS.values(), ids=PYTHON_CHECKS.keys())
def test_python_is_clean(command: list[str]) -> None:
    passes([sys.executable, "-m", *command], ROOT)


def test_what_is_let_stand_of_security_findings_is_counted_in_the_readme() -> None:
    sources = [path.read_text("utf-8") for path in (ROOT / "webapp").rglob("*.py")]
    nosec = sum(len(re.findall(r"#\s*nosec\b", text)) for text in sources)
    noqa = sum(len(re.findall(r"#\s*noqa:[^#\n]*\bS\d", text)) for text in sources)
    told = re.search(
        r"`nosec` (\d+) times, `noqa: S…` (\d+) times",
        (ROOT / "README.md").read_text("utf-8"),
    )
    assert told
    assert (nosec, noqa) == (int(told[1]), int(told[2]))


@pytest.mark.parametrize("config", ["tsconfig.pages.json", "tsconfig.worker.json"])
def test_the_tablets_code_passes_the_type_checker(config: str) -> None:
    tsc = node.ensure_modules() / ".bin" / "tsc"
    passes([str(tsc), "-p", config], node.CHECKS)


def test_the_type_checker_reads_every_module_of_the_tablet() -> None:
    tsc = node.ensure_modules() / ".bin" / "tsc"
    read = subprocess.run(
        [str(tsc), "-p", "tsconfig.pages.json", "--listFilesOnly"],
        cwd=node.CHECKS,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.splitlines()
    modules = {path.resolve() for path in (ROOT / "static" / "js").rglob("*.js")}
    assert modules
    assert modules <= {Path(line).resolve() for line in read}
