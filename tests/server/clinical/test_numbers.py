"""Each number of medicine in the code is a limit, or named with its source.

Read are the literal numbers of both languages, also those written as text. What a
number may be without a name: 0 and 1, a place in a sequence, a count of parts.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[3]
PYTHON = sorted((ROOT / "webapp" / "clinical").glob("*.py"))
TABLET = sorted((ROOT / "static" / "js" / "clinical").glob("*.js"))
# A name in capitals may hold numbers when a comment beside it says whose they are.
SAID = re.compile(r"\b(domain|clinical|catalogue|limits? of ours|calendar)\b", re.I)
WRITTEN = re.compile(r"-?[0-9]+(\.[0-9]+)?(/[0-9]+)?")
# Seconds, minutes and milliseconds into one another, and decimal places.
CONVERSIONS = {
    "10",
    "60",
    "1000",
    "1440",
    "60000",
    "86400",
    "3600000",
    "86400000",
    "1970",
}
# (file without ending, number): why it is neither a limit nor a name.
ALLOWED = {
    ("exact", "2"): "a decimal ends when only 2 and 5 divide what is below",
    ("exact", "5"): "the same",
    ("mode", "3"): "letters that a pacing code has at least (domain 8c)",
    ("rows", "20"): "letters of a moment without milliseconds",
    (
        "rows",
        "275",
    ): "the catalogue's largest height, held by a test",
    ("shown", "0.1"): "the step where none is told: how a number is cut (clinical 8)",
    ("shown", "2"): "how an age is written: days from two on (ux 6)",
    ("shown", "20"): "how an age is written: just now (ux 6)",
    ("shown", "99"): "how an age is written: minutes up to 99 (clinical 14)",
    ("shown", "172800"): "seconds of two days",
}
_COUNTED = {"len", "count", "range"}


def _python(file: Path) -> list[tuple[int, str]]:
    """Return line and number of each literal that no name holds."""
    text = file.read_text(encoding="utf-8")
    tree, lines = ast.parse(text), text.splitlines()
    apart = set(_apart(tree, lines))
    return [
        (node.lineno, told)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and node not in apart
        if (told := _number(node.value)) is not None
    ]


def _apart(tree: ast.Module, lines: list[str]) -> list[ast.AST]:
    """Return the literals of sourced names, of places in sequences, and of counts."""
    nodes: list[ast.AST] = []
    for one in tree.body:
        if isinstance(one, ast.Assign | ast.AnnAssign) and _is_said(one, lines):
            nodes += ast.walk(one)
    for node in ast.walk(tree):
        if isinstance(node, ast.Subscript):
            nodes += ast.walk(node.slice)
        if isinstance(node, ast.Compare) and _counts(node):
            nodes += node.comparators
    return nodes


def _counts(node: ast.Compare) -> bool:
    first = node.left
    name = getattr(getattr(first, "func", None), "id", "")
    return isinstance(first, ast.Call) and name in _COUNTED


def _is_said(one: ast.Assign | ast.AnnAssign, lines: list[str]) -> bool:
    target = one.targets[0] if isinstance(one, ast.Assign) else one.target
    name = getattr(target, "id", "")
    return name.isupper() and _said_above(lines, one.lineno - 1, "#")


def _said_above(lines: list[str], at: int, sign: str) -> bool:
    """Return whether a comment here, or just above its block, names a source."""
    here = lines[at].partition(sign)[2]
    above = at - 1
    while above >= 0 and lines[above].strip() and lines[above][0] not in "#/ *":
        above -= 1
    block = []
    while above >= 0 and lines[above].lstrip().startswith((sign, "*", "/*")):
        block.append(lines[above])
        above -= 1
    return SAID.search(" ".join([here, *block])) is not None


def _number(value: object) -> str | None:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return None if value in (-1, 0, 1) else str(value)
    if isinstance(value, str) and WRITTEN.fullmatch(value):
        return None if value in ("0", "1") else value
    return None


_WORDS = re.compile(
    r"/\*.*?\*/|//[^\n]*|`(?:\\.|[^`\\])*`|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])*'"
    r"|(?<=[=(,:&|!?] )/(?:\\.|[^/\\\n])+/[a-z]*|(?<=[=(,!])/(?:\\.|[^/\\\n])+/[a-z]*",
    re.DOTALL,
)
_FIGURES = re.compile(r"(?<![\w.$])[0-9][0-9_]*(?:\.[0-9]+)?n?(?![\w.])")
_PLACE = re.compile(
    r"\[-?[0-9]+\]|\.(?:length|size) [<>=!]=?=? [0-9]+|\.slice\([-0-9, ]*\)"
)


def _tablet(file: Path) -> list[tuple[int, str]]:
    text = file.read_text(encoding="utf-8")
    lines, found, is_said = text.splitlines(), [], False
    bare = _WORDS.sub(_without, text)
    for n, line in enumerate(bare.splitlines()):
        if re.match(r"(?:export )?const [A-Z]", line):
            is_said = _said_above(lines, n, "//")
        elif not line.startswith((" ", "}", "]", ")")):
            is_said = False
        if is_said:
            continue
        figures = _FIGURES.findall(_PLACE.sub("", line))
        told = [figure.replace("_", "").rstrip("n") for figure in figures]
        found += [(n + 1, one) for one in told if one not in ("0", "1")]
    return found


def _without(match: re.Match[str]) -> str:
    """Return a comment, text or pattern as blank; a number written as text stays."""
    inside = match[0][1:-1]
    if match[0][0] in "\"'" and WRITTEN.fullmatch(inside):
        return inside
    return "\n" * match[0].count("\n")


@pytest.mark.parametrize("file", PYTHON + TABLET, ids=lambda f: f.name)
def test_each_number_is_a_limit_or_named_with_its_source(file: Path) -> None:
    found = _python(file) if file.suffix == ".py" else _tablet(file)
    unsaid = [
        (line, number)
        for line, number in found
        if number not in CONVERSIONS and (file.stem, number) not in ALLOWED
    ]
    assert unsaid == [], f"{file.name}: (line, number)"


def test_no_reason_is_kept_for_a_number_that_is_gone() -> None:
    found = {(f.stem, n) for f in PYTHON for _, n in _python(f)}
    found |= {(f.stem, n) for f in TABLET for _, n in _tablet(f)}
    assert set(ALLOWED) - found == set()


def test_a_bare_number_is_found_in_either_language(tmp_path: Path) -> None:
    python, tablet = tmp_path / "one.py", tmp_path / "one.js"
    python.write_text('LEAST = 4\n\ndef f(x):\n    return x > 2.5 or number("30")\n')
    tablet.write_text('const LEAST = 4;\nconst f = (x) => x > 25n || number("30");\n')
    assert {n for _, n in _python(python)} == {"4", "2.5", "30"}
    assert {n for _, n in _tablet(tablet)} == {"4", "25", "30"}
