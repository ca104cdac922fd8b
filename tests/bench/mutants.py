"""Changed copies of a module: each comparison and number flipped, one at a time."""

from __future__ import annotations

import ast
import copy
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

_FLIPS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
_RATIO = re.compile(r"([0-9]+)/([0-9]+)")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change. `line`: where, `text`: that line; `was`, `now`: source; `code`: the
    whole module.
    """

    module: str
    line: int
    text: str
    was: str
    now: str
    code: str


def mutants(module: str, source: str) -> Iterator[Mutant]:
    """Yield every changed copy of a module, in the order of its lines."""
    tree, lines = ast.parse(source), source.splitlines()
    places = [n for n, node in enumerate(ast.walk(tree)) if _may_change(node)]
    skipped = {n for n, node in enumerate(ast.walk(tree)) if node in _apart(tree)}
    for place in places:
        if place not in skipped:
            yield from _at(module, tree, lines, place)


def _may_change(node: ast.AST) -> bool:
    if isinstance(node, ast.Compare):
        return True
    return isinstance(node, ast.Constant) and _other(node.value) is not None


def _apart(tree: ast.Module) -> set[ast.AST]:
    """Return what only describes: decorators, annotations, texts that stand alone.

    And whether a `zip` is strict, which changes nothing while lengths are equal.
    """
    apart: set[ast.AST] = set()
    for node in ast.walk(tree):
        told = [*getattr(node, "decorator_list", ())]
        told += [getattr(node, name, None) for name in ("annotation", "returns")]
        if isinstance(node, ast.keyword) and node.arg == "strict":
            told.append(node.value)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            told.append(node.value)
        for one in told:
            if one is not None:
                apart |= set(ast.walk(one))
    return apart


def _at(
    module: str, tree: ast.Module, lines: list[str], place: int
) -> Iterator[Mutant]:
    node = _nth(tree, place)
    was = ast.unparse(node)
    changes: list[tuple[int, Any]] = []
    if isinstance(node, ast.Compare):
        for n, op in enumerate(node.ops):
            changes += [(n, flip()) for flip in _FLIPS[type(op)]]
    elif isinstance(node, ast.Constant):
        changes.append((0, _other(node.value)))
    for n, change in changes:
        other = copy.deepcopy(tree)
        found = _nth(other, place)
        if isinstance(found, ast.Compare):
            found.ops[n] = change
        elif isinstance(found, ast.Constant):
            found.value = change
        line = getattr(node, "lineno", 1)
        text, now = lines[line - 1].strip(), ast.unparse(found)
        yield Mutant(module, line, text, was, now, ast.unparse(other))


def _nth(tree: ast.Module, place: int) -> ast.AST:
    return next(node for n, node in enumerate(ast.walk(tree)) if n == place)


def _other(value: Any) -> Any:
    """Return another constant of the kind: the next number, the other truth value."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    if isinstance(value, str) and _NUMBER.fullmatch(value):
        return _beside(value, 1)
    return None


def _beside(value: str, steps: int) -> str:
    places = len(value.partition(".")[2])
    told = Fraction(value) + Fraction(steps, 10**places)
    return f"{float(told):.{places}f}"


def other_limits(value: str, low: str, high: str) -> list[str]:
    """Return a limit one last decimal up and down, where it is allowed to be.

    Of a ratio the next that have a larger denominator: 2/3 gives 3/4 and 3/5.
    """
    if match := _RATIO.fullmatch(value):
        over, under = int(match[1]) + 1, int(match[2])
        told = [f"{over}/{under + 1}", f"{over}/{under + 2}"]
    elif _NUMBER.fullmatch(value):
        told = [_beside(value, 1), _beside(value, -1)]
    else:
        return []
    return [v for v in told if Fraction(low) <= Fraction(v) <= Fraction(high)]
