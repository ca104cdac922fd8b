"""Which way imports point, and who alone may speak to network, storage and page.

The order is catalogue, clinical and record.fold, record, note and coding, views, app;
on the tablet clinical, log, sync, form and live, pages.
"""

from __future__ import annotations

import ast
import json
import re
import subprocess
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PYTHON = ROOT / "webapp"
SCRIPTS = ROOT / "static" / "js"

# A module imports from lower ranks, or from its own package. record.* is one package
# whose parts without a rank of their own stand at "record".
RANKS = {
    "texts": 0,
    "paths": 0,
    "row_sums": 0,
    "apart": 0,
    "say": 1,
    "catalogue": 2,
    "controls": 3,
    "clinical": 3,
    "settings": 3,
    "db": 3,
    "errors": 3,
    "headers": 3,
    "pages": 3,
    "shell": 3,
    "joined_files": 3,
    "record": 4,
    "app_db": 4,
    "forms": 5,
    "people": 5,
    "keep": 6,
    "note": 6,
    "coding": 7,
    "views": 8,
    "app": 9,
    "serving": 10,
    "code_tables": 10,
    "catch_up": 8,
    "demo": 11,
    "cli": 12,
}
# Neither a web framework nor a database, not even through what they import.
PURE = (
    "webapp.catalogue",
    "webapp.clinical",
    "webapp.note",
    "webapp.coding",
    "webapp.record.fold",
    "webapp.record.case",
    "webapp.record.counts",
    "webapp.record.questions",
)
OUTSIDE = ("flask", "flask_wtf", "werkzeug", "wtforms", "sqlite3", "sqlite_utils")
SCRIPT_RANKS = {
    "clinical": 0,
    "log": 1,
    "sync": 2,
    "form": 3,
    "live": 3,
    "rehearsal": 3,
    "pages": 4,
}
# Who alone says it, in code.
ONLY = {
    "indexedDB": {"js/log/db.js"},
    "fetch": {"js/sync/exchange.js", "js/sync/token.js", "sw.js"},
    "serviceWorker": {"js/sw-ask.js", "js/sw-bridge.js", "js/sw-vault.js"},
    "XMLHttpRequest": set(),
    "sendBeacon": set(),
    "WebSocket": set(),
    "EventSource": set(),
    "importScripts": {"sw.js"},
    "eval": set(),
}
_IMPORT = re.compile(r"""(?:from|import)\s*\(?\s*["'](\.{1,2}/[^"']+)["']""")
_COMMENT = re.compile(r"/\*.*?\*/|(?<![:\"'`])//[^\n]*", re.DOTALL)


def python_imports() -> dict[str, set[str]]:
    """Return, for each module of ours, all it imports, by full name."""
    found: dict[str, set[str]] = {}
    for file in sorted(PYTHON.rglob("*.py")):
        name = ".".join(file.relative_to(ROOT).with_suffix("").parts)
        found[name.removesuffix(".__init__")] = _imported(file)
    return {
        name: {_known(one, found) for one in told} - {name}
        for name, told in found.items()
    }


def _imported(file: Path) -> set[str]:
    told: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            told |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file.name}: imports are absolute"
            told |= {f"{node.module}.{alias.name}" for alias in node.names}
    return told


def _known(name: str, modules: dict[str, set[str]]) -> str:
    """Return the module behind an imported name: "webapp.say.say" is webapp.say."""
    while name.startswith("webapp.") and name not in modules:
        name = name.rpartition(".")[0]
    return name


def unit(module: str) -> str:
    return module.split(".")[1]


def cycles(graph: dict[str, set[str]]) -> list[str]:
    """Return the modules that reach themselves."""
    return [name for name in graph if name in reached(name, graph)]


def reached(name: str, graph: dict[str, set[str]]) -> set[str]:
    found: set[str] = set()
    waiting = list(graph.get(name, ()))
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += graph.get(one, ())
    return found


GRAPH = python_imports()
OURS = {
    name: {i for i in told if i.startswith("webapp.")} for name, told in GRAPH.items()
}


def test_every_python_module_has_its_place_among_the_layers() -> None:
    assert {unit(name) for name in GRAPH if "." in name} == set(RANKS)


def test_python_imports_point_one_way() -> None:
    wrong = [
        f"{name} imports {one}"
        for name, told in OURS.items()
        for one in told
        if "." in one
        and unit(one) != unit(name)
        and RANKS[unit(one)] >= RANKS[unit(name)]
    ]
    assert wrong == []


def test_no_python_module_imports_itself_through_others() -> None:
    assert cycles(OURS) == []


@pytest.mark.parametrize("layer", PURE)
def test_a_pure_layer_knows_neither_web_nor_database(layer: str) -> None:
    own = [n for n in GRAPH if n == layer or n.startswith(f"{layer}.")]
    assert own
    wrong = [
        f"{name} reaches {one}"
        for name in own
        for one in reached(name, GRAPH)
        if one.split(".")[0] in OUTSIDE
    ]
    assert wrong == []


def script_imports() -> dict[str, set[str]]:
    """Return, for each script, the scripts it imports, as paths below static/js."""
    found: dict[str, set[str]] = defaultdict(set)
    for file in sorted(SCRIPTS.rglob("*.js")):
        name = file.relative_to(SCRIPTS).as_posix()
        found[name] = set()
        for told in _IMPORT.findall(code_of(file)):
            target = (file.parent / told).resolve()
            assert target.is_file(), f"{name} imports {told}, which does not exist"
            found[name].add(target.relative_to(SCRIPTS.resolve()).as_posix())
    return found


def code_of(file: Path) -> str:
    return _COMMENT.sub("", file.read_text(encoding="utf-8"))


def test_script_imports_point_one_way() -> None:
    wrong = [
        f"{name} imports {one}"
        for name, told in script_imports().items()
        for one in told
        if "/" in name and "/" in one
        if SCRIPT_RANKS[one.split("/")[0]] > SCRIPT_RANKS[name.split("/")[0]]
    ]
    assert wrong == []


def test_what_is_computed_on_the_tablet_imports_nothing_but_itself() -> None:
    told = {n: i for n, i in script_imports().items() if n.startswith("clinical/")}
    assert len(told) > 20
    assert [
        n for n, i in told.items() if any(not o.startswith("clinical/") for o in i)
    ] == []


def test_no_script_imports_itself_through_others() -> None:
    assert cycles(script_imports()) == []


@pytest.mark.parametrize("word", ONLY)
def test_only_one_place_says_it(word: str) -> None:
    files = [*SCRIPTS.rglob("*.js"), ROOT / "static" / "sw.js"]
    saying = {
        file.relative_to(ROOT / "static").as_posix()
        for file in files
        if re.search(rf"\b{word}\b", code_of(file))
    }
    assert saying <= ONLY[word]
    assert saying or not ONLY[word]


def test_importing_a_script_has_no_effect_except_a_page_s() -> None:
    done = subprocess.run(
        ["node", str(ROOT / "tests" / "js" / "imports.mjs")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert len(found["files"]) > 40
    assert found["told"] == []


def test_what_is_computed_uses_no_binary_fraction() -> None:
    inexact = re.compile(
        r"\b(?:Number\.parseFloat|parseFloat|toFixed|Math\.(?!max|min|abs))"
    )
    scripts = {
        file.name
        for file in (SCRIPTS / "clinical").glob("*.js")
        if inexact.search(code_of(file))
    }
    assert scripts == set()
    for file in (PYTHON / "clinical").glob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        numbers = [n.value for n in ast.walk(tree) if isinstance(n, ast.Constant)]
        assert not [n for n in numbers if isinstance(n, float)], file.name
        names = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)}
        assert not names & {"float", "round"}, file.name
        divided = [n for n in ast.walk(tree) if isinstance(n, ast.Div)]
        assert not divided or "Fraction" in names, file.name
