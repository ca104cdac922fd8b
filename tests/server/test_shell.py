"""Which files make up the tablet's shell, and the worker that is told of them."""

from __future__ import annotations

import pytest

from webapp.paths import static_folder
from webapp.shell import (
    Shell,
    UnfitWorker,
    fingerprint,
    modules_of,
    shell_of,
    static_files,
    worker_source,
)

PAGES = {"/tablet/": b"<h1>shell</h1>", "/catalogue.json": b"{}"}
WORKER = 'const VERSION = "unversioned";\nconst SHELL = [];\n'


@pytest.fixture
def static(tmp_path):
    for name in ("js/a.js", "js/log/b.js", "css/c.css", "icons/d.png", "fonts/e.woff2"):
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(name.encode())
    return tmp_path


def test_the_shell_lists_every_page_and_every_file_of_the_tablet(static):
    assert shell_of(PAGES, static, b"").paths == (
        "/catalogue.json",
        "/tablet/",
        "/static/css/c.css",
        "/static/fonts/e.woff2",
        "/static/icons/d.png",
        "/static/js/a.js",
        "/static/js/log/b.js",
    )


def test_the_same_bytes_have_the_same_version(static):
    assert shell_of(PAGES, static, b"w") == shell_of(dict(PAGES), static, b"w")


@pytest.mark.parametrize(
    "name", ["js/a.js", "js/log/b.js", "css/c.css", "icons/d.png", "fonts/e.woff2"]
)
def test_one_changed_byte_of_any_file_is_a_new_version(static, name):
    before, seen = shell_of(PAGES, static, b""), fingerprint(static)
    (static / name).write_bytes(b"changed, and longer than before")
    assert shell_of(PAGES, static, b"").version != before.version
    assert fingerprint(static) != seen


def test_a_changed_page_and_a_changed_worker_are_new_versions(static):
    before = shell_of(PAGES, static, b"w").version
    changed = {**PAGES, "/tablet/": b"<h1>other</h1>"}
    assert shell_of(changed, static, b"w").version != before
    assert shell_of(PAGES, static, b"x").version != before


def test_a_renamed_file_is_a_new_version(static):
    before = shell_of(PAGES, static, b"").version
    (static / "js/a.js").rename(static / "js/z.js")
    assert shell_of(PAGES, static, b"").version != before


def test_what_no_browser_asks_for_is_not_kept(static):
    for name in ("fonts/build.py", "fonts/e.ttf", "fonts/OFL.txt", "sw.js"):
        (static / name).write_bytes(b"x")
    assert all(
        path not in shell_of(PAGES, static, b"").paths
        for path in ("/static/fonts/build.py", "/static/fonts/e.ttf", "/static/sw.js")
    )


def test_the_worker_is_told_version_and_list():
    filled = worker_source(WORKER, Shell("0123456789abcdef", ("/tablet/", "/a.js")))
    assert 'const VERSION = "0123456789abcdef";' in filled
    assert 'const SHELL = [\n  "/tablet/",\n  "/a.js",\n];' in filled


@pytest.mark.parametrize(
    "source", ["", WORKER + WORKER, WORKER.replace("[]", '["/x"]')]
)
def test_a_worker_without_a_place_for_them_is_refused(source):
    with pytest.raises(UnfitWorker):
        worker_source(source, Shell("0", ()))


def test_the_shipped_worker_is_short_classic_and_has_both_places():
    source = (static_folder() / "sw.js").read_text(encoding="utf-8")
    assert len(source.splitlines()) < 120
    assert "import " not in source
    assert worker_source(source, Shell("0", ("/tablet/",)))


def test_every_module_and_style_that_ships_is_kept_but_the_style_pages_own():
    kept = static_files(static_folder())
    for folder, suffix in (("js", ".js"), ("css", ".css")):
        for file in (static_folder() / folder).rglob(f"*{suffix}"):
            path = f"/static/{file.relative_to(static_folder()).as_posix()}"
            is_of_the_style_page = path.startswith(
                ("/static/js/pages/style", "/static/css/style.css")
            )
            assert (path in kept) is not is_of_the_style_page


def test_a_module_s_imports_are_all_named_once(tmp_path):
    modules = {
        "js/pages/a.js": """/** @import { T } from "../types.js" */
import { b } from "../b.js";
import {
  c,
  d,
} from "../log/c.js";
export { e } from "./e.js";
const text = 'import { no } from "../no.js";';
""",
        "js/b.js": 'import "./log/c.js";\nimport { a } from "./pages/a.js";\n',
        "js/log/c.js": "",
        "js/pages/e.js": 'import { c } from "../log/c.js";\n',
    }
    for name, source in modules.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(source)
    assert modules_of(tmp_path, "js/pages/a.js") == tuple(
        f"/static/{name}"
        for name in ("js/pages/a.js", "js/b.js", "js/log/c.js", "js/pages/e.js")
    )


def test_every_module_the_tablet_needs_is_kept():
    needed = modules_of(static_folder(), "js/pages/tablet.js")
    assert "/static/js/log/store.js" in needed
    assert set(needed) <= set(static_files(static_folder()))
