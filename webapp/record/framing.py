"""The bytes of one `POST /sync`: head length, head JSON, then the sealed bodies."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, NamedTuple, TypeGuard

from webapp.record.entry import (
    LARGEST_INTEGER,
    Header,
    UnreadableHeader,
    decode_header,
    is_uuid7,
)
from webapp.record.log import Head
from webapp.record.seal import CannotOpen, Wrap, wrap_from_json

MOST_ENTRIES = 500
MOST_BYTES = 4 * 1024 * 1024
MOST_IN_WORDS = f"at most {MOST_BYTES} bytes a request"
MOST_ENTRY_BYTES = 64 * 1024
MOST_NAMED = 5000
_LENGTH_BYTES = 4
_HEX64 = frozenset("0123456789abcdef")


class UnreadablePush(ValueError):
    """The request is not of the fixed form. `field` names where."""

    def __init__(self, field: str, expected: str) -> None:
        super().__init__(f"{field}: {expected}")
        self.field = field
        self.expected = expected


class TooMuch(UnreadablePush):
    """The request carries more than one may. `expected` names the limit."""


class Item(NamedTuple):
    """One entry as it travels. `header` is None when it was no text."""

    header: bytes | None
    sealed: bytes


@dataclass(frozen=True, slots=True)
class Tip:
    """The last place a tablet has written in one of its logs."""

    log: str
    seq: int


@dataclass(frozen=True, slots=True)
class Opened:
    """A record a tablet has open. `since`: position it holds the record up to.

    `holds`: headers of entries by others that it has here, told after a server went
    back. `limits`: name of the limits it reads the record by; "" when not said.
    """

    record: str
    since: int
    tips: tuple[Tip, ...]
    holds: tuple[Header, ...] = ()
    limits: str = ""


@dataclass(frozen=True, slots=True)
class Push:
    """What a tablet sends in one request. Wraps that cannot be read are left out.

    `limits`: names of the limits it holds; None from a tablet that knows of none.
    """

    catalogue: int = 0
    logs: tuple[Tip, ...] = ()
    wraps: tuple[Wrap, ...] = ()
    items: tuple[Item, ...] = ()
    open: tuple[Opened, ...] = ()
    head: Head | None = None
    pull_all: bool = False
    limits: frozenset[str] | None = None


@dataclass(slots=True)
class _Reader:
    """Takes the sealed bodies off the request, one after the other."""

    raw: bytes
    at: int = field(default=0)

    def take(self, count: int, name: str) -> bytes:
        if self.at + count > len(self.raw):
            raise UnreadablePush(name, "as many bytes as the request announces")
        self.at += count
        return self.raw[self.at - count : self.at]


def encode_push(head: dict[str, Any], sealed: Iterable[bytes]) -> bytes:
    """Return the request's bytes; `head["entries"]` names the lengths of `sealed`."""
    text = json.dumps(head, separators=(",", ":")).encode()
    return len(text).to_bytes(_LENGTH_BYTES, "big") + text + b"".join(sealed)


def read_push(raw: bytes) -> Push:
    """Read a request. Does not look into headers or bodies.

    Raises UnreadablePush: naming the field; TooMuch: over a limit of one request.
    """
    if len(raw) > MOST_BYTES:
        raise TooMuch("body", MOST_IN_WORDS)
    reader = _Reader(raw)
    length = int.from_bytes(reader.take(_LENGTH_BYTES, "length"), "big")
    head = read_head(reader.take(length, "head"))
    entries = _list(head, "entries")
    if len(entries) > MOST_ENTRIES:
        raise TooMuch("entries", f"at most {MOST_ENTRIES} a request")
    items = tuple(_item(reader, entry) for entry in entries)
    if reader.at != len(raw):
        raise UnreadablePush("entries", "no bytes behind the last body")
    return Push(
        catalogue=_number(head.get("catalogue", 0), "catalogue"),
        logs=tuple(_tip(tip, "logs", "tip") for tip in _list(head, "logs")),
        wraps=_wraps(_list(head, "wraps")),
        items=items,
        open=tuple(_opened(item) for item in _list(head, "open")),
        head=_seen_head(head.get("head")),
        pull_all=head.get("pull_all") is True,
        limits=_limits(head) if "limits" in head else None,
    )


def read_head(raw: bytes) -> dict[str, Any]:
    """Read the head of a request. Raises UnreadablePush: it is no head of version 1."""
    try:
        head = json.loads(raw.decode())
    except (ValueError, RecursionError) as error:
        raise UnreadablePush("head", "a JSON object in UTF-8") from error
    if not isinstance(head, dict):
        raise UnreadablePush("head", "a JSON object")
    if head.get("v") != 1 or head["v"] is True:
        raise UnreadablePush("v", "version 1")
    return head


def _item(reader: _Reader, entry: Any) -> Item:
    if not isinstance(entry, dict):
        raise UnreadablePush("entries", "objects with header and sealed")
    length = _number(entry.get("sealed"), "entries.sealed")
    sealed = reader.take(length, "entries.sealed")
    header = entry.get("header")
    if not isinstance(header, str):
        return Item(None, sealed)
    return Item(header.encode("utf-8", "surrogatepass"), sealed)


def _tip(given: Any, name: str, key: str) -> Tip:
    log = _id(given, name, "log")
    return Tip(log, _number(given.get(key), f"{name}.{key}"))


def _opened(given: Any) -> Opened:
    record = _id(given, "open", "record")
    since = _number(given.get("since", 0), "open.since")
    tips = tuple(_tip(tip, "open.tips", "seq") for tip in _list(given, "tips"))
    holds = _holds(_list(given, "holds"), record)
    limits = given.get("limits")
    return Opened(record, since, tips, holds, limits if _is_digest(limits) else "")


def _limits(head: dict[str, Any]) -> frozenset[str]:
    """Return the names that can be: one that cannot must not hold up the entries."""
    return frozenset(name for name in _list(head, "limits") if _is_digest(name))


def _is_digest(given: Any) -> TypeGuard[str]:
    return isinstance(given, str) and len(given) == 64 and _HEX64.issuperset(given)


def _holds(given: list[Any], record: str) -> tuple[Header, ...]:
    """Return the readable headers: one that is not must not hold up the others."""
    found: list[Header] = []
    for text in given:
        try:
            header = decode_header(str(text).encode("utf-8", "surrogatepass"))
        except UnreadableHeader:
            continue
        if header.record == record:
            found.append(header)
    return tuple(found)


def _wraps(given: list[Any]) -> tuple[Wrap, ...]:
    """Return the readable wraps: one that is not must not hold up the others."""
    found: list[Wrap] = []
    for item in given:
        try:
            wrap = wrap_from_json(item)
        except CannotOpen:
            continue
        if all(map(is_uuid7, (wrap.key, wrap.record, wrap.log, wrap.server_key))):
            found.append(wrap)
    return tuple(found)


def _seen_head(given: Any) -> Head | None:
    if given is None:
        return None
    if not isinstance(given, dict):
        raise UnreadablePush("head", "an object with position and chain")
    chain = given.get("chain")
    if not _is_digest(chain):
        raise UnreadablePush("head.chain", "64 lower-case hexadecimal signs")
    return Head(_number(given.get("position"), "head.position"), chain)


def _list(given: dict[str, Any], name: str) -> list[Any]:
    found = given.get(name)
    if found is None:
        return []
    if not isinstance(found, list):
        raise UnreadablePush(name, "a list")
    if len(found) > MOST_NAMED:
        raise TooMuch(name, f"at most {MOST_NAMED} a request")
    return found


def _number(given: Any, name: str) -> int:
    if type(given) is not int or not 0 <= given <= LARGEST_INTEGER:
        raise UnreadablePush(name, "a whole number from 0")
    return given


def _id(given: Any, name: str, key: str) -> str:
    found = given.get(key) if isinstance(given, dict) else None
    if not isinstance(found, str) or not is_uuid7(found):
        raise UnreadablePush(f"{name}.{key}", "a UUIDv7 in lower case")
    return found
