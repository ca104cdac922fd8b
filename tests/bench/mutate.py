"""Whether the worked examples notice: every comparison, number and limit changed once.

python -m tests.bench.mutate [MODULE ...] [--elsewhere] [--jobs 2]

Works in a copy. Each change of the modules of threshold, sensing, margin, doses and
depth, and of the limits that they read, meets all vectors in a process of its own; what
none of them notices is printed, and the command ends with 1. What no input can tell is
named in `equivalent.toml`. `--elsewhere`: all other modules of what is computed; what
survives there is printed only.
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
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

from tests.bench import equivalents
from tests.bench.equivalents import Spot
from tests.bench.mutants import Mutant, mutants, other_limits

ROOT = Path(__file__).resolve().parents[2]
CLINICAL = "webapp.clinical."
LIMITS = "policy.toml"
MODULES = (
    *("threshold", "threshold_remarks", "counted", "next_output", "standing", "retest"),
    *("told_tests", "left_at", "readings", "rows", "rhythm", "dependence"),
    *("sensing", "wire_sensing", "sensing_area"),
    *("margin", "output", "drift", "drift_remarks"),
    *("anaesthetic", "anaesthetic_remarks", "amounts", "certain", "drugs_remarks"),
    *("atropine", "drug_totals", "infusions"),
    *("deep", "coil", "depth_moved", "depth_remarks", "depths_told", "read_again"),
    *("bands", "atrium_tick", "tips", "way", "read_at", "sites"),
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


@dataclass(frozen=True, slots=True)
class _Change:
    """`where`: file and line; `notices`: tells whether an example notices it."""

    spot: Spot
    where: str
    notices: Callable[[], bool]


def main() -> int:
    """Read the command line, change, count, print what survived."""
    asked = _asked()
    with tempfile.TemporaryDirectory() as folder:
        _copied(Path(folder), asked.examples)
        if _met(lambda: _some_example_fails(())):
            print("the examples fail, or cannot be read, without any change")
            return 1
        modules = asked.modules or (_others() if asked.elsewhere else MODULES)
        of = {*modules} if asked.modules else {*modules, LIMITS}
        named = equivalents.named(asked.equivalent, of)
        changes = _changes(modules)
        unnoticed = _unnoticed(changes, asked.jobs, named)
    found = equivalents.outcome(unnoticed, named)
    for spot in found.stale:
        print(f"stale, named as equivalent and noticed or not made: {spot}")
    noticed = len(changes) - unnoticed.total()
    excused = f" ({found.excused} equivalent, named)" if found.excused else ""
    survivors = f"survivors {len(found.survived)}{excused}"
    print(f"{len(changes)} changes, {noticed} noticed, {survivors}")
    return 1 if found.stale or (found.survived and not asked.elsewhere) else 0


def _asked() -> argparse.Namespace:
    told = argparse.ArgumentParser(description=__doc__)
    told.add_argument("modules", nargs="*", help="of webapp/clinical, without .py")
    told.add_argument("--elsewhere", action="store_true", help="print, never fail")
    told.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    told.add_argument("--examples", type=Path, default=ROOT / "fixtures" / "vectors")
    told.add_argument("--equivalent", type=Path, default=equivalents.FILE)
    return told.parse_args()


def _others() -> list[str]:
    """Return all other modules of what is computed."""
    names = sorted(file.stem for file in _policy.parent.glob("[a-z]*.py"))
    return [name for name in names if name not in MODULES]


def _unnoticed(
    changes: Sequence[_Change], jobs: int, named: Counter[Spot]
) -> Counter[Spot]:
    """Return what no example notices; print at once what is not named either."""
    found: Counter[Spot] = Counter()
    with ThreadPoolExecutor(jobs) as pool:
        ends = pool.map(lambda one: _met(one.notices), changes)
        for one, is_noticed in zip(changes, ends, strict=True):
            if is_noticed:
                continue
            found[one.spot] += 1
            if found[one.spot] > named[one.spot]:
                print(f"{one.where}: {one.spot.was}  ->  {one.spot.now}", flush=True)
    return found


def _copied(folder: Path, examples: Path) -> None:
    """Copy what is needed, and let all later imports come from there."""
    ignored = shutil.ignore_patterns("node_modules", "__pycache__")
    for name in ("webapp", "tests/support"):
        shutil.copytree(ROOT / name, folder / name, ignore=ignored)
    shutil.copytree(examples, folder / "fixtures" / "vectors")
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


def _changes(modules: Sequence[str]) -> list[_Change]:
    """Return each change of the modules, then of the limits that they read."""
    limits = tomllib.loads(_policy.read_text(encoding="utf-8"))
    found: list[_Change] = []
    read: set[str] = set()
    for name in modules:
        source = (_policy.parent / f"{name}.py").read_text(encoding="utf-8")
        read |= _limits_read(source, [key for key in limits if key != "version"])
        for one in mutants(f"{CLINICAL}{name}", source):
            spot = Spot(name, one.text, one.was, one.now)
            where = f"{name}.py:{one.line}"
            found.append(_Change(spot, where, lambda one=one: _notices_code(one)))
    return [*found, *(one for key in sorted(read) for one in _of_limit(key, limits))]


def _of_limit(key: str, limits: dict[str, Any]) -> Iterator[_Change]:
    """Yield each number of a limit changed; words are no limits here."""
    row = limits[key]
    if row.get("kind", "number") not in ("number", "numbers", "range"):
        return
    values = (row["value"],) if isinstance(row["value"], str) else tuple(row["value"])
    for n, was in enumerate(values):
        for now in other_limits(was, row["low"], row["high"]):
            told = (*values[:n], now, *values[n + 1 :])
            spot, where = Spot(LIMITS, key, was, now), f"{LIMITS}: {key}"
            yield _Change(spot, where, lambda told=told: _notices_limit(key, told))


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
        if len(pattern.replace(".+", "")) > 5:
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


def _notices_limit(key: str, values: tuple[str, ...]) -> bool:
    policy = import_module(f"{CLINICAL}policy")
    row = policy._shipped().rows[key]
    rows = {**policy._shipped().rows, key: policy.replace(row, values=values)}
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
