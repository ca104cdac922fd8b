"""A photo on its way: the bytes of one `POST /sync/photo`, and how it is sealed.

Four bytes of length, a JSON head, the sealed bytes. The head: `{"v": 1, "sealed",
"record", "log", "key", "wrap"}`; `sealed` is the SHA-256 of the sealed bytes, the name
by which entries know the photo; `wrap` is its key's, as in /sync, or null.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from webapp.record.entry import DESK_LOG, is_uuid7, sha256_hex
from webapp.record.framing import UnreadablePush, read_head
from webapp.record.seal import CannotOpen, Wrap, wrap_from_json

MOST_HEAD_BYTES = 16 * 1024
MOST_ASKED = 1000
_LENGTH_BYTES = 4
_DIGEST = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class SealedPhoto:
    """One photo as it travels. `sealed`: the digest of `raw`, the sealed bytes."""

    sealed: str
    record: str
    log: str
    key: str
    wrap: Wrap | None
    raw: bytes

    @property
    def is_whole(self) -> bool:
        """Return whether the bytes are those the name was made of."""
        return sha256_hex(self.raw) == self.sealed

    def encode(self) -> bytes:
        """Return the bytes of the request that sends it."""
        head = {
            "v": 1,
            "sealed": self.sealed,
            "record": self.record,
            "log": self.log,
            "key": self.key,
            "wrap": self.wrap.as_json() if self.wrap else None,
        }
        text = json.dumps(head, separators=(",", ":")).encode()
        return len(text).to_bytes(_LENGTH_BYTES, "big") + text + self.raw


def is_digest(given: object) -> bool:
    """Return whether a value is a SHA-256 in lower-case hexadecimal signs."""
    return isinstance(given, str) and _DIGEST.fullmatch(given) is not None


def about(record: str, key: str) -> bytes:
    """Return the associated data of a photo's seal."""
    return f"photo\n{record}\n{key}\n".encode()


def read_photo(given: bytes) -> SealedPhoto:
    """Read a request; the seal stays closed. Raises UnreadablePush."""
    length = int.from_bytes(given[:_LENGTH_BYTES], "big")
    start = _LENGTH_BYTES + length
    if len(given) < start or length > MOST_HEAD_BYTES:
        raise UnreadablePush("head", "as many bytes as the request announces")
    head = read_head(given[_LENGTH_BYTES:start])
    if not is_digest(head.get("sealed")):
        raise UnreadablePush("sealed", "64 lower-case hexadecimal signs")
    for name in ("record", "log", "key"):
        if not isinstance(head.get(name), str) or not is_uuid7(head[name]):
            raise UnreadablePush(name, "a UUIDv7 in lower case")
    if head["log"] == DESK_LOG:
        raise UnreadablePush("log", "a log of a tablet")
    names = (head["key"], head["record"], head["log"])
    wrap = _wrap(head.get("wrap"), names)
    return SealedPhoto(
        head["sealed"], names[1], names[2], names[0], wrap, given[start:]
    )


def read_asked(given: Any) -> list[str]:
    """Read which photos a tablet asks after. Raises UnreadablePush."""
    digests = given.get("digests") if isinstance(given, dict) else None
    if not isinstance(digests, list) or not all(map(is_digest, digests)):
        raise UnreadablePush("digests", "a list of SHA-256 digests")
    if len(digests) > MOST_ASKED:
        raise UnreadablePush("digests", f"at most {MOST_ASKED} a request")
    return digests


def sealed_in(value: Any) -> Iterator[str]:
    """Return the name of every photo that a value holds, whatever field it is of."""
    if isinstance(value, dict):
        if is_digest(value.get("sealed")) and is_digest(value.get("sha256")):
            yield value["sealed"]
        else:
            for child in value.values():
                yield from sealed_in(child)
    elif isinstance(value, list):
        for child in value:
            yield from sealed_in(child)


def _wrap(given: Any, names: tuple[str, str, str]) -> Wrap | None:
    """Return the wrap that came along. Raises UnreadablePush: it is another key's."""
    if given is None:
        return None
    try:
        wrap = wrap_from_json(given)
    except CannotOpen as error:
        raise UnreadablePush("wrap", "a whole wrap") from error
    if (wrap.key, wrap.record, wrap.log) != names or not is_uuid7(wrap.server_key):
        raise UnreadablePush("wrap", "the wrap of the key that is named")
    return wrap
