"""Whether the worked examples notice: every comparison, number and limit changed once.

python -m tests.bench.mutate [MODULE ...] [--jobs 2]

Works in a copy. Each change of the modules of threshold, sensing, margin, doses and
depth, and of the limits that they read, meets all vectors in a process of its own; what
none of them notices is printed, and the command ends with 1.
"""

from __future__ import annotations

import argparse
import ast
import importlib.abc
import importlib.machinery
import os
import re
import shutil
import signal
import sys
import tempfile
import tomllib
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from importlib import import_module
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

from tests.bench.mutants import Mutant, mutants, other_limits

ROOT = Path(__file__).resolve().parents[2]
CLINICAL = "webapp.clinical."
MODULES = (
    *("threshold", "threshold_remarks", "counted", "next_output", "standing", "retest"),
    *("sensing", "wire_sensing", "margin", "output", "dependence", "drift"),
    *("anaesthetic", "amounts", "atropine", "drug_totals", "infusions"),
    *("deep", "coil", "depth_moved", "bands", "atrium_tick", "read_again"),
)
# They tell the limits themselves, so any change of one is noticed: no proof.
TELLS_LIMITS = ("limits", "remark_words")
# A change that never ends is noticed.
LONGEST_S = 30
_KILLED, _SURVIVED, _BROKEN = 10, 0, 11


class Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Imports one module from a changed text, all others as ever."""

    def __init__(self, name: str, code: CodeType) -> None:
        self.name, self.code = name, code

    def find_spec(
        self, name: str, path: Any, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        """Return our own loader for the changed module."""
        if name != self.name:
            return None
        return importlib.machinery.ModuleSpec(name, self)

    def exec_module(self, module: ModuleType) -> None:
        """Run the changed text."""
        exec(self.code, module.__dict__)  # noqa: S102


def main() -> int:
    """Read the command line, change, count, print what survived."""
    told = argparse.ArgumentParser(description=__doc__)
    told.add_argument("modules", nargs="*", default=MODULES)
    told.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    asked = told.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        _copied(Path(folder))
        if _met(lambda: _some_example_fails(())):
            print("the examples fail, or cannot be read, without any change")
            return 1
        changes = _changes(asked.modules)
        survived = 0
        with ThreadPoolExecutor(asked.jobs) as pool:
            ends = pool.map(lambda one: _met(one[1]), changes)
            for (words, _), is_noticed in zip(changes, ends, strict=True):
                if not is_noticed:
                    survived += 1
                    print(words, flush=True)
    print(f"{len(changes)} changes, {len(changes) - survived} noticed")
    return 1 if survived else 0


def _copied(folder: Path) -> None:
    """Copy what is needed, and let all later imports come from there."""
    ignored = shutil.ignore_patterns("node_modules", "__pycache__")
    for name in ("webapp", "tests/support", "fixtures/vectors"):
        shutil.copytree(ROOT / name, folder / name, ignore=ignored)
    (folder / "tests" / "__init__.py").touch()
    sys.path.insert(0, str(folder))
    for name in [n for n in sys.modules if n.split(".")[0] in ("tests", "webapp")]:
        del sys.modules[name]
    # What no change touches is imported once; every process has it from here.
    for name in ("webapp.catalogue", "webapp.record.fold", "webapp.say"):
        import_module(name)
    global _examples, _policy
    _examples = import_module("tests.support.clinical_vectors")
    _examples.worked()
    _policy = folder / "webapp" / "clinical" / "policy.toml"


_examples: ModuleType
_policy: Path


def _changes(modules: Sequence[str]) -> list[tuple[str, Callable[[], bool]]]:
    """Return each change in words, with what tells whether the vectors notice it."""
    limits = tomllib.loads(_policy.read_text(encoding="utf-8"))
    found: list[tuple[str, Callable[[], bool]]] = []
    read: set[str] = set()
    for name in modules:
        source = (_policy.parent / f"{name}.py").read_text(encoding="utf-8")
        read |= _limits_read(source, [key for key in limits if key != "version"])
        for one in mutants(f"{CLINICAL}{name}", source):
            words = f"{name}.py:{one.line}: {one.was}  ->  {one.now}"
            found.append((words, lambda one=one: _notices_code(one)))
    for key in sorted(read):
        row = limits[key]
        if isinstance(row["value"], str) and row.get("kind", "number") == "number":
            for value in other_limits(row["value"], row["low"], row["high"]):
                words = f"policy.toml: {key} = {row['value']}  ->  {value}"
                found.append((words, lambda k=key, v=value: _notices_limit(k, v)))
    return found


def _limits_read(source: str, keys: Sequence[str]) -> set[str]:
    """Return the limits that a module names, also in parts: "lidocaine_{kind}_cap"."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = re.escape(node.value)
            pattern = f"{text}.*" if node.value.endswith(".") else text
        elif isinstance(node, ast.JoinedStr):
            pattern = "".join(
                re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".+"
                for part in node.values
            )
        else:
            continue
        if len(pattern) > 5:
            found |= {key for key in keys if re.fullmatch(pattern, key)}
    return found


def _met(notices: Callable[[], bool]) -> bool:
    """Return whether a change is noticed, tried in a process of its own."""
    child = os.fork()
    if child == 0:
        signal.alarm(LONGEST_S)
        try:
            os._exit(_KILLED if notices() else _SURVIVED)
        except BaseException:
            os._exit(_BROKEN)
    _, status = os.waitpid(child, 0)
    return not os.WIFEXITED(status) or os.WEXITSTATUS(status) != _SURVIVED


def _notices_code(one: Mutant) -> bool:
    code = compile(one.code, one.module, "exec")
    sys.meta_path.insert(0, Changed(one.module, code))
    return _some_example_fails(())


def _notices_limit(key: str, value: str) -> bool:
    policy = import_module(f"{CLINICAL}policy")
    row = policy._shipped().rows[key]
    rows = {**policy._shipped().rows, key: policy.replace(row, values=(value,))}
    changed = policy.Policy(policy.VERSION, policy.MappingProxyType(rows))
    policy._shipped = lambda: changed
    return _some_example_fails(TELLS_LIMITS)


def _some_example_fails(but: tuple[str, ...]) -> bool:
    call = import_module("tests.support.clinical_calls").call
    return any(
        not _examples.agrees(call(case["function"], case["input"]), case["expect"])
        for cases in _examples.worked().values()
        for case in cases
        if case["function"] not in but
    )


if __name__ == "__main__":
    sys.exit(main())
