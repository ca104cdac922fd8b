"""The tablet's modules and styles as one file each: each costs a fetch and a start.

The sources stay as they are written and are served as they are, for other pages and
for tests; the joined texts are made of them in memory, beside the rendered pages. Each
module becomes a function that is called once, in the order of imports, and gives what
the module exports; each style sheet stands in its layer.
"""

from __future__ import annotations

import re
from pathlib import Path

_IMPORT = re.compile(
    r'^import (?:\{(?P<names>[^}]*)\} from )?"(?P<path>\.[^"]+)";$', re.MULTILINE
)
_EXPORT = re.compile(
    r"^export (?P<kind>(?:async )?function\*?|const|class) (?P<name>[\w$]+)",
    re.MULTILINE,
)
_STYLE = re.compile(
    r'^@import url\("(?P<path>[^":]+)"\)(?: layer\((?P<layer>\w+)\))?;$', re.M
)
_ADDRESS = re.compile(r'url\("(?P<path>\.\.?/[^"]+)"\)')
_MODULE_WORD = re.compile(r"^(?:import|export)\b.*$", re.MULTILINE)


class UnfitFile(ValueError):
    """A file that cannot be joined: a form of import or export, or a circle."""


def joined_script(static: Path, entry: str) -> bytes:
    """Return one module that does what `entry` and all it imports do.

    `entry`: below the static folder, such as "js/pages/tablet.js". Raises UnfitFile.
    """
    root = static.resolve()
    order = in_order((root / entry).resolve())
    names = {file: f"$module{n}" for n, file in enumerate(order)}
    parts = [
        f"// {file.relative_to(root).as_posix()}\n{_as_function(file, names)}"
        for file in order
    ]
    return "\n".join(parts).encode()


def joined_style(static: Path, entry: str) -> bytes:
    """Return one style sheet that does what `entry` and all it imports do.

    Addresses of fonts and pictures become whole ones. Raises UnfitFile.
    """
    file = static / entry

    def imported(found: re.Match[str]) -> str:
        text = _with_addresses(static, (file.parent / found["path"]))
        layer = found["layer"]
        return f"@layer {layer} {{\n{text}}}" if layer else text

    joined = _STYLE.sub(imported, file.read_text(encoding="utf-8"))
    if left := re.search(r"^\s*@import.*$", joined, re.MULTILINE):
        raise UnfitFile(f"{file.name}: {left[0]}")
    return joined.encode()


def _with_addresses(static: Path, file: Path) -> str:
    def whole(found: re.Match[str]) -> str:
        path = (file.parent / found["path"]).resolve()
        return f'url("/static/{path.relative_to(static.resolve()).as_posix()}")'

    return _ADDRESS.sub(whole, file.read_text(encoding="utf-8"))


def in_order(entry: Path) -> list[Path]:
    """Return a module and all it imports, each after what it imports.

    Raises UnfitFile: when modules import one another in a circle.
    """
    done: dict[Path, None] = {}

    def visit(file: Path, above: tuple[Path, ...]) -> None:
        if file in above:
            raise UnfitFile(f"{file.name} imports itself, by way of others")
        if file in done:
            return
        for path, _ in _imports(file.read_text(encoding="utf-8")):
            visit((file.parent / path).resolve(), (*above, file))
        done[file] = None

    visit(entry, ())
    return list(done)


def _imports(source: str) -> list[tuple[str, str]]:
    found = _IMPORT.finditer(source)
    return [(one["path"], one["names"] or "") for one in found]


def _as_function(file: Path, names: dict[Path, str]) -> str:
    source = file.read_text(encoding="utf-8")
    taken = [
        f"const {{{_renamed(given)}}} = {names[(file.parent / path).resolve()]};"
        for path, given in _imports(source)
        if given
    ]
    exported = [one["name"] for one in _EXPORT.finditer(source)]
    body = _EXPORT.sub(r"\g<kind> \g<name>", _IMPORT.sub("", source))
    body = body.replace("export {};\n", "")
    if left := _MODULE_WORD.search(body):
        raise UnfitFile(f"{file.name}: {left[0]}")
    lines = [f"const {names[file]} = (() => {{", *taken, body.strip("\n")]
    return "\n".join([*lines, f"return {{ {', '.join(exported)} }};", "})();"])


def _renamed(given: str) -> str:
    return re.sub(r"\bas\b", ":", " ".join(given.split()))
