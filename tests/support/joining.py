"""A second tablet that takes part in a case."""

from __future__ import annotations

# Beside the other tablet's: it takes part in the case from now on.
JOINS = """async (record) => {
  const { openStore } = await import("/static/js/log/store.js");
  const store = await openStore();
  await store.openRecord(record);
  const author = { person: null, name: "O. Fell-Example", role: "nurse" };
  await store.append(record, { path: "indication.event", op: "add",
    value: { what: "second tablet here" }, author });
  store.close();
}"""
