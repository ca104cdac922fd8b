"""The tablet's shell: which files make it up, and the worker that keeps them.

The version is the hash of every byte a tablet keeps, so a tablet changes its shell
exactly when one of them changed.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

# The fonts folder also holds what the note is set in and how the fonts were made.
KEPT = {
    "css": (".css",),
    "fonts": (".woff2",),
    "icons": (".png", ".svg"),
    "js": (".js",),
    "vendor": (".js", ".css", ".wasm"),
    # Loaded by the worker itself; here its change makes a new version.
    "worker": (".js",),
}
# The style page is looked at by those who work on the product, never at the bedside.
NOT_KEPT = ("js/pages/style", "css/style.css")
_IMPORT = re.compile(r'^(?:import|export) [^"]*?(?:from )?"(\.[^"]+)";$', re.MULTILINE)
_VERSION = 'const VERSION = "unversioned";'
_SHELL = "const SHELL = [];"


class UnfitWorker(ValueError):
    """The worker's source has no place for the version or the list."""


@dataclass(frozen=True, slots=True)
class Shell:
    """What a tablet keeps to open without network. `paths`: as requested, in order."""

    version: str
    paths: tuple[str, ...]


def shell_of(pages: Mapping[str, bytes], static: Path, worker: bytes) -> Shell:
    """Return the shell made of these rendered pages and the static folder's files.

    `pages`: path -> body as served; `worker`: the source of sw.js, whose change is
    a new version too.
    """
    files = {path: file.read_bytes() for path, file in static_files(static).items()}
    whole = hashlib.sha256(worker)
    for path, body in sorted({**pages, **files}.items()):
        whole.update(f"{path}\n{len(body)}\n".encode())
        whole.update(body)
    return Shell(whole.hexdigest()[:16], (*sorted(pages), *sorted(files)))


def static_files(static: Path) -> dict[str, Path]:
    """Return the static files a tablet keeps, by the path they are asked for under."""
    return {
        f"/static/{file.relative_to(static).as_posix()}": file
        for folder, suffixes in KEPT.items()
        for file in sorted((static / folder).rglob("*"))
        if file.suffix in suffixes
        and file.is_file()
        and not file.relative_to(static).as_posix().startswith(NOT_KEPT)
    }


def modules_of(static: Path, entry: str) -> tuple[str, ...]:
    """Return the paths of a module and of all it imports, in the order they are met.

    `entry`: below the static folder, such as "js/pages/tablet.js". Named in the page,
    they are fetched at once and not level by level.
    """
    found: dict[Path, None] = {}
    waiting = [(static / entry).resolve()]
    while waiting:
        module = waiting.pop(0)
        if module in found:
            continue
        found[module] = None
        names = _IMPORT.findall(module.read_text(encoding="utf-8"))
        waiting += [(module.parent / name).resolve() for name in names]
    root = static.resolve()
    return tuple(f"/static/{m.relative_to(root).as_posix()}" for m in found)


def fingerprint(static: Path) -> tuple[tuple[str, int, int], ...]:
    """Return what tells that a static file changed, without reading it.

    Asked for with every page of the shell: so not by way of `static_files`.
    """
    found = []
    for folder, suffixes in KEPT.items():
        for at, _, names in os.walk(static / folder):
            for name in names:
                if name.endswith(suffixes):
                    file = f"{at}/{name}"
                    stat = os.stat(file)
                    found.append((file, stat.st_mtime_ns, stat.st_size))
    return tuple(sorted(found))


def worker_source(source: str, shell: Shell) -> str:
    """Return the worker with its version and its list filled in.

    Raises UnfitWorker: when a place for them is missing or stands twice.
    """
    paths = ",\n".join(f'  "{path}"' for path in shell.paths)
    filled = {
        _VERSION: f'const VERSION = "{shell.version}";',
        _SHELL: f"const SHELL = [\n{paths},\n];",
    }
    for place, text in filled.items():
        if source.count(place) != 1:
            raise UnfitWorker(f"sw.js has no single line {place}")
        source = source.replace(place, text)
    return source
