"""A whole case put into a tablet's own log: told by a file, or made up from a seed."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random
from typing import Any

from playwright.sync_api import Page

from tests.support.any_answers import answers_anything
from webapp.record.streams import read_stream

WHO = {"person": None, "name": "K. Ouse-Example", "role": "nurse"}
FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
# An entry names others by the ids they had where they were told; here each gets a new one.
_PUT = """async ([record, told]) => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  const id = record || store.newRecord();
  const made = new Map();
  for (const { as, entry } of told) {
    const here = JSON.stringify(entry).replace(/@\\d+@/g, (name) => made.get(name) ?? name);
    made.set(as, (await store.append(id, JSON.parse(here))).id);
  }
  store.close();
  return id;
}"""


class Told:
    """Entries in order, each under a name that later ones may use: `@3@`.

    Has the verbs of a tablet that writes, so that what fills a tablet fills this.
    """

    def __init__(self) -> None:
        self.entries: list[dict[str, Any]] = []

    def sets(self, record: str, path: str, value: Any, **rest: Any) -> str:
        """Tell an answer."""
        return self._tells({"path": path, "op": "set", "value": value, **rest})

    def adds(self, record: str, path: str, row: Any, **rest: Any) -> str:
        """Tell a row."""
        return self._tells({"path": path, "op": "add", "value": row, **rest})

    def strikes(self, record: str, path: str, entry: str, reason: str = "") -> str:
        """Strike a row."""
        value = {"strikes": entry, "reason": reason or None}
        return self._tells({"path": path, "op": "strike", "value": value})

    def adds_wire(self, record: str, name: str = "Wire 1") -> str:
        """Tell a wire."""
        return self.adds(record, "wires", {"name": name})

    def put(self, page: Page, record: str = "") -> str:
        """Keep all of it in this page's tablet; return the record's id."""
        return str(page.evaluate(_PUT, [record, self.entries]))

    def _tells(self, entry: dict[str, Any]) -> str:
        name = f"@{len(self.entries)}@"
        self.entries.append({"as": name, "entry": {"author": WHO, **entry}})
        return name


def anything(seed: int) -> Told:
    """Return a made-up case with two thirds of all there is to answer."""
    told = Told()
    answers_anything(told, "", Random(seed))  # type: ignore[arg-type]
    return told


def of_file(name: str) -> Told:
    """Return the case of `fixtures/<name>.json`."""
    told = Told()
    named: dict[str, str] = {}
    for draft in read_stream(FIXTURES / f"{name}.json").drafts:
        text = json.dumps([draft.path, draft.value])
        for old, new in named.items():
            text = text.replace(old, new)
        path, value = json.loads(text)
        author = draft.author or WHO
        entry = {"path": path, "op": draft.op, "value": value, "author": author}
        named[draft.id] = told._tells(entry)
    return told
