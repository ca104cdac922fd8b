"""The tablet's files as one each do what the files themselves do."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest

from webapp.joined_files import UnfitFile, in_order, joined_script, joined_style
from webapp.paths import static_folder

ENTRY = "js/pages/tablet.js"


@pytest.fixture
def written(tmp_path):
    """Write files by name; returns their folder."""

    def write(files: dict[str, str]) -> Path:
        for name, source in files.items():
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / name).write_text(source, encoding="utf-8")
        return tmp_path

    return write


def run(script: bytes) -> list[object]:
    """Run a script as a module; return what it prints, a JSON text a line."""
    command = ["node", "--input-type=module", "-"]
    told = subprocess.run(command, input=script, capture_output=True, check=True)
    return [json.loads(line) for line in told.stdout.splitlines()]


def test_joined_modules_say_what_the_modules_say(written):
    files = {
        "js/a.js": """/** @import { T } from "./types.js" */
import { LIMIT, count as counted, Thing } from "./b.js";
import {
  later,
} from "./deep/c.js";
import "./d.js";

const LOCAL = "a";
later().then((n) => console.log(
  JSON.stringify([LOCAL, LIMIT, counted(2), new Thing().name, n])));
""",
        "js/b.js": """const LOCAL = "b";
export const LIMIT = 5;
/** Says export in its text. */
export function count(n) {
  return `${n} export of ${LOCAL}`;
}
export class Thing {
  name = LOCAL;
}
""",
        "js/deep/c.js": """import { LIMIT } from "../b.js";
export async function later() {
  return LIMIT + 1;
}
export {};
""",
        "js/d.js": 'console.log(JSON.stringify("d first"));\n',
    }
    told = run(joined_script(written(files), "js/a.js"))
    assert told == ["d first", ["a", 5, "2 export of b", "b", 6]]


def test_a_module_that_two_import_runs_once(written):
    files = {
        "a.js": 'import { n } from "./b.js";\nimport { m } from "./c.js";\n'
        "console.log(JSON.stringify([n, m]));\n",
        "b.js": 'import { m } from "./c.js";\nexport const n = m + 1;\n',
        "c.js": 'console.log(JSON.stringify("once"));\nexport const m = 1;\n',
    }
    assert run(joined_script(written(files), "a.js")) == ["once", [2, 1]]


@pytest.mark.parametrize(
    "source",
    [
        "export let changing = 1;\n",
        "export default 1;\n",
        'export * from "./b.js";\n',
        'import * as all from "./b.js";\n',
        'import one from "./b.js";\n',
        "const a = 1;\nexport { a };\n",
    ],
)
def test_a_form_of_import_or_export_that_cannot_be_joined_is_refused(written, source):
    folder = written({"a.js": source, "b.js": ""})
    with pytest.raises(UnfitFile):
        joined_script(folder, "a.js")


def test_modules_that_import_one_another_are_refused(written):
    circle = {"a.js": 'import "./b.js";\n', "b.js": 'import "./a.js";\n'}
    with pytest.raises(UnfitFile):
        joined_script(written(circle), "a.js")


def test_every_module_of_the_tablet_stands_after_what_it_imports():
    order = in_order((static_folder() / ENTRY).resolve())
    assert len(order) == len(set(order)) > 100
    assert order[-1].name == "tablet.js"


def test_the_tablet_s_own_modules_can_be_joined(tmp_path):
    file = tmp_path / "tablet.mjs"
    file.write_bytes(joined_script(static_folder(), ENTRY))
    subprocess.run(["node", "--check", str(file)], check=True)


def test_joined_styles_keep_layers_and_find_their_fonts(written):
    files = {
        "css/main.css": "@layer base;\n\n"
        '@import url("fonts.css");\n@import url("parts/key.css") layer(base);\n',
        "css/fonts.css": 'a { src: url("../fonts/a.woff2"); }\n',
        "css/parts/key.css": ".key { color: red; }\n",
    }
    assert joined_style(written(files), "css/main.css").decode() == (
        "@layer base;\n\n"
        'a { src: url("/static/fonts/a.woff2"); }\n\n'
        "@layer base {\n.key { color: red; }\n}\n"
    )


def test_a_style_that_imports_in_another_form_is_refused(written):
    folder = written({"css/main.css": '@import "fonts.css";\n'})
    with pytest.raises(UnfitFile):
        joined_style(folder, "css/main.css")


def test_no_style_of_the_tablet_imports_any_more():
    assert b"@import" not in joined_style(static_folder(), "css/main.css")
