"""A tablet's whole database as JSON, and back: for one that was frozen long ago."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

# Any shape of any version: nothing here knows a store by name. Bytes become base64.
_DUMP = """async (name) => {
  const asked = (request) => new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  const plain = (value) => {
    if (value instanceof Uint8Array) return { $bytes: btoa(String.fromCharCode(...value)) };
    if (Array.isArray(value)) return value.map(plain);
    if (value === null || typeof value !== "object") return value;
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, plain(one)]));
  };
  const db = await asked(indexedDB.open(name));
  const names = [...db.objectStoreNames];
  const tx = db.transaction(names);
  const stores = await Promise.all(names.map(async (store) => {
    const at = tx.objectStore(store);
    const indexes = [...at.indexNames].map((index) => {
      const { keyPath, unique } = at.index(index);
      return { name: index, keyPath, unique };
    });
    const rows = (await asked(at.getAll())).map(plain);
    return { name: store, keyPath: at.keyPath, autoIncrement: at.autoIncrement, indexes, rows };
  }));
  const { version } = db;
  db.close();
  return { name, version, stores };
}"""
_LOAD = """(told) => new Promise((resolve, reject) => {
  const full = (value) => {
    if (Array.isArray(value)) return value.map(full);
    if (value === null || typeof value !== "object") return value;
    if ("$bytes" in value) return Uint8Array.from(atob(value.$bytes), (c) => c.charCodeAt(0));
    return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, full(one)]));
  };
  const request = indexedDB.open(told.name, told.version);
  request.onerror = () => reject(request.error);
  request.onupgradeneeded = () => {
    for (const { name, keyPath, autoIncrement, indexes } of told.stores) {
      const store = request.result.createObjectStore(name, { keyPath, autoIncrement });
      for (const index of indexes) store.createIndex(index.name, index.keyPath, index);
    }
  };
  request.onsuccess = () => {
    const db = request.result;
    const tx = db.transaction(told.stores.map(({ name }) => name), "readwrite");
    for (const { name, rows } of told.stores) {
      for (const row of rows) tx.objectStore(name).add(full(row));
    }
    tx.onabort = () => reject(tx.error);
    tx.oncomplete = () => { db.close(); resolve(); };
  };
})"""


def dumped(page: Page, name: str = "wiremark") -> dict[str, Any]:
    """Return a database of this origin: its version, each store's shape and rows."""
    return dict(page.evaluate(_DUMP, name))


def loads(page: Page, told: dict[str, Any]) -> None:
    """Make the database anew in a profile that has none."""
    page.evaluate(_LOAD, told)


# In a page: the digest of an entry, and so its keeping, waits until `release()` is called;
# drafts have none, and go on.
HOLD_ENTRIES = """() => {
  const digest = crypto.subtle.digest.bind(crypto.subtle);
  const gate = new Promise((open) => { window.release = open; });
  crypto.subtle.digest = async (...given) => { await gate; return digest(...given); };
}"""
