"""Write entries as a tablet does: made once, sealed at once, keys wrapped.

The demo and the tests send through this; the browser's twin is `static/js/log/`.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from webapp.record.entry import VERSION, Header, encode_body, sha256_hex, uuid7
from webapp.record.photo import SealedPhoto, about
from webapp.record.seal import KEY_BYTES, Wrap, seal, wrap_key


@dataclass(frozen=True, slots=True)
class Draft:
    """One entry to be: everything of its body but the salt, and its own id."""

    id: str
    path: str
    op: str
    value: Any
    seen: tuple[str, ...]
    at: dict[str, Any]
    author: dict[str, Any]
    entered_by: dict[str, Any]
    called_by: dict[str, Any] | None
    source: str
    how: str


@dataclass(frozen=True, slots=True)
class SealedEntry:
    """An entry as a tablet holds it. `body` is what was sealed."""

    header: Header
    body: bytes
    sealed: bytes

    def as_json(self) -> dict[str, Any]:
        """Return the entry's place in the head of `/sync`."""
        return {"header": self.header.encode().decode(), "sealed": len(self.sealed)}


@dataclass(slots=True)
class Writer:
    """One log of one tablet. `server_spki`: the server's public key, as DER."""

    server_key: str
    server_spki: bytes
    log: str = field(default_factory=uuid7)
    tip: int = 0
    wraps: dict[str, Wrap] = field(default_factory=dict)
    _keys: dict[str, tuple[str, bytes]] = field(default_factory=dict)

    def write(self, record: str, draft: Draft) -> SealedEntry:
        """Write one entry at the log's next place."""
        return self.write_body(record, draft.id, encode_body(body_of(draft)))

    def write_body(self, record: str, entry_id: str, body: bytes) -> SealedEntry:
        """Seal these body bytes at the log's next place, whatever they say."""
        key_id, key = self._key_of(record)
        self.tip += 1
        header = Header(VERSION, entry_id, record, self.log, self.tip, key_id)
        return SealedEntry(header, body, seal(key, header.encode(), body))

    def seal_photo(self, record: str, original: bytes) -> SealedPhoto:
        """Seal a photo's original bytes under the record's key; adds no entry."""
        key_id, key = self._key_of(record)
        raw = seal(key, about(record, key_id), original)
        wrap = self.wraps.get(key_id)
        return SealedPhoto(sha256_hex(raw), record, self.log, key_id, wrap, raw)

    def wraps_of(self, entries: Iterable[SealedEntry]) -> list[Wrap]:
        """Return the wraps that the server needs to open these entries."""
        keys = dict.fromkeys(entry.header.key for entry in entries)
        return [self.wraps[key] for key in keys if key in self.wraps]

    def _key_of(self, record: str) -> tuple[str, bytes]:
        if record not in self._keys:
            key_id, key = uuid7(), secrets.token_bytes(KEY_BYTES)
            self._keys[record] = (key_id, key)
            self.wraps[key_id] = wrap_key(
                key_id, key, record, self.log, self.server_key, self.server_spki
            )
        return self._keys[record]


def body_of(draft: Draft) -> dict[str, Any]:
    """Return the body's fields, with a fresh salt."""
    return {
        "path": draft.path,
        "op": draft.op,
        "value": draft.value,
        "seen": list(draft.seen),
        "at": draft.at,
        "author": draft.author,
        "entered_by": draft.entered_by,
        "called_by": draft.called_by,
        "source": draft.source,
        "how": draft.how,
        "salt": secrets.token_hex(16),
    }
