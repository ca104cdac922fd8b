"""The tablet's log in a page, driven from a test as a screen would drive it."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

MIRA = {"person": None, "name": "Test-Mira FJORDHOLM", "role": "assistant"}

_OPEN = """async (name) => {
  const { openStore } = await import("/static/js/log/store.js");
  window.storeName = name || undefined;
  window.store = await openStore(name ? { name } : {});
}"""
# What a rejected call looks like to the test: the problem's code, never an exception.
_APPEND = """async ([record, entry]) => {
  try { return await window.store.append(record, entry); }
  catch (problem) { return { refused: problem.code ?? String(problem) }; }
}"""
_ROWS = """async ([name, store]) => {
  const { openBase } = await import("/static/js/log/db.js");
  const { result } = await import("/static/js/log/transaction.js");
  const base = await openBase(name ? { name } : {});
  const rows = await base.transact([store], "readonly", (tx) =>
    result(tx.objectStore(store).getAll()));
  base.close();
  return rows;
}"""


class StorePage:
    """One page with an open store. `name`: of its database; the product's own if ""."""

    def __init__(self, page: Page, name: str = "") -> None:
        self.page = page
        self.name = name
        page.evaluate(_OPEN, name)

    def new_record(self) -> str:
        """Return a fresh record id."""
        return str(self.page.evaluate("() => window.store.newRecord()"))

    def appends(self, record: str, path: str, value: Any, **parts: Any) -> Any:
        """Keep one entry; {"refused": code} when it was not kept."""
        entry = {"path": path, "value": value, "author": MIRA, **parts}
        return self.page.evaluate(_APPEND, [record, entry])

    def fold(self, record: str) -> Any:
        """Return what the record says on this tablet."""
        return self.page.evaluate("(record) => window.store.fold(record)", record)

    def shows(self, record: str, path: str) -> list[Any]:
        """Return the values shown under a path: two are two answers."""
        return [head["value"] for head in self.fold(record)["values"].get(path, [])]

    def status(self) -> Any:
        """Return where the entries are."""
        return self.page.evaluate("() => window.store.status()")

    def notes(self) -> list[str]:
        """Return the keys of what the strip says besides."""
        return [note["key"] for note in self.status()["notes"]]

    def rows(self, store: str) -> Any:
        """Return the rows of one object store, read by a connection of its own."""
        return self.page.evaluate(_ROWS, [self.name, store])
