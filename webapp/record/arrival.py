"""Read the entries of one request as far as each can be read. Does not write."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple

from sqlite_utils import Database

from webapp.record.entry import (
    VERSION,
    Header,
    UnreadableHeader,
    decode_header,
    digest,
    is_uuid7,
    sha256_hex,
)
from webapp.record.framing import MOST_ENTRY_BYTES, Item
from webapp.record.log import NewEntry, Ruling
from webapp.record.ruling import Judged, judged, read_body
from webapp.record.seal import CannotOpen
from webapp.record.wraps import Keys
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Unreadable:
    """An item that is refused as it stands. `id`: what it seems to be, or None.

    `refused`: key of the reason; `item`: as it came.
    """

    id: str | None
    refused: str
    item: Item
    header: Header | None = None


class Arrived(NamedTuple):
    """An entry with a well-formed header.

    `opened`: the body's bytes, None when the seal does not open; `body`: None when
    they cannot be read; `against`: key of the reason not to count it, or "";
    `is_sound`: nothing in its value is impossible.
    """

    header: Header
    sealed: bytes
    opened: bytes | None
    body: dict[str, Any] | None
    against: str
    is_sound: bool = False

    def digests(self) -> tuple[str, ...]:
        """Return the digests under which these very bytes may stand already.

        A seal that does not open now may have opened before, or the other way.
        """
        raw = self.header.encode()
        bodies = [b for b in (self.opened, self.sealed) if b is not None]
        return tuple(digest(raw, sha256_hex(body)) for body in bodies)

    def as_new(self, against: str) -> NewEntry:
        """Return the entry to keep; `against`: key of the reason, or ""."""
        ruling: Ruling = "set_aside" if against else "counted"
        because = say(against) if against else ""
        if self.opened is None:
            return NewEntry(self.header, self.sealed, "sealed", ruling, because)
        return NewEntry(self.header, self.opened, "opened", ruling, because)


def read_items(
    db: Database, items: Iterable[Item], keys: Keys
) -> list[Arrived | Unreadable]:
    """Read every item, in order; `keys` learns the kept wraps they need."""
    headers = [(item, _header(item)) for item in items]
    keys.add_kept(db, {header.key for _, header in headers if header is not None})
    return [_read(item, header, keys) for item, header in headers]


def _header(item: Item) -> Header | None:
    try:
        return decode_header(item.header or b"")
    except UnreadableHeader:
        return None


def _read(item: Item, header: Header | None, keys: Keys) -> Arrived | Unreadable:
    if header is None:
        return Unreadable(_seeming_id(item), "refused.header", item)
    if len(item.sealed) > MOST_ENTRY_BYTES:
        return Unreadable(header.id, "refused.size", item, header)
    opened = _opened(header, item, keys)
    if opened is None:
        return Arrived(header, item.sealed, None, None, "because.cannot_open")
    body = read_body(opened) if header.v == VERSION else None
    told = judged_as_read(header, body)
    return Arrived(header, item.sealed, opened, body, told.against, told.is_sound)


def _opened(header: Header, item: Item, keys: Keys) -> bytes | None:
    opener = keys.opener_for(header.key, header.record, header.log)
    if opener is None or item.header is None:
        return None
    try:
        # A header that can be read has one form: these are the bytes it encodes to.
        return opener.open(item.header, item.sealed)
    except CannotOpen:
        return None


def judged_as_read(header: Header, body: dict[str, Any] | None) -> Judged:
    """Judge an entry, looking at it alone."""
    if header.v != VERSION:
        return Judged("because.version")
    return Judged("because.unreadable") if body is None else judged(body)


def _seeming_id(item: Item) -> str | None:
    lines = (item.header or b"").decode("ascii", "replace").split("\n")
    return lines[1] if len(lines) > 1 and is_uuid7(lines[1]) else None
