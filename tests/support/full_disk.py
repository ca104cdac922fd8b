"""A disk on which nothing has room any more, for a page that is open."""

from __future__ import annotations

FULL = """() => {
  const { prototype } = IDBDatabase;
  window.whole = prototype.transaction;
  prototype.transaction = () => { throw new DOMException("", "QuotaExceededError"); };
}"""
ROOM_AGAIN = "() => { IDBDatabase.prototype.transaction = window.whole; }"
