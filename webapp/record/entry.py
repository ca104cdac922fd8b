"""The bytes of one entry: header in clear, body made once, digest, chain."""

from __future__ import annotations

import hashlib
import json
import re
import secrets
import time
from typing import Any, NamedTuple

from webapp.record.plain_json import NotPlain, read_plain

VERSION = 1
DESK_LOG = "desk"
NO_KEY = "-"
GENESIS_CHAIN = "0" * 64
OPS = ("set", "add", "strike")
SOURCES = ("seen", "told", "device", "copied")
HOWS = ("passphrase", "pin", "typed", "none", "password")
BODY_KEYS = (
    "path",
    "op",
    "value",
    "seen",
    "at",
    "author",
    "entered_by",
    "called_by",
    "source",
    "how",
    "salt",
)
_BODY_KEYS = frozenset(BODY_KEYS)
LARGEST_INTEGER = 2**53 - 1

_ID = r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"
_UUID7 = re.compile(_ID)
_SEQ = re.compile(r"[1-9][0-9]{0,15}")
# The headers of tablets, read in one step.
_HEADER = re.compile(
    rf"([1-9][0-9]{{0,3}})\n({_ID})\n({_ID})\n({_ID})\n([1-9][0-9]{{0,14}})\n({_ID})\n"
)


class UnreadableHeader(ValueError):
    """The header is not six lines of the fixed form."""


class UnreadableBody(ValueError):
    """The body is not the UTF-8 JSON object every entry must be."""


class Header(NamedTuple):
    """The part of an entry in clear; `log` is "desk" for the server's own."""

    v: int
    id: str
    record: str
    log: str
    seq: int
    key: str

    def encode(self) -> bytes:
        """Return the header's bytes, which are also the seal's associated data."""
        return (
            f"{self.v}\n{self.id}\n{self.record}\n{self.log}\n{self.seq}\n{self.key}\n"
        ).encode()


def decode_header(raw: bytes) -> Header:
    """Read a header. Raises UnreadableHeader: when any line is not of its form."""
    try:
        text = raw.decode("ascii")
    except UnicodeDecodeError as error:
        raise UnreadableHeader("header is not ASCII") from error
    usual = _HEADER.fullmatch(text)
    if usual:
        v, entry_id, record, log, seq, key = usual.groups()
        return Header(int(v), entry_id, record, log, int(seq), key)
    lines = text.split("\n")
    if len(lines) != 7 or lines[6] != "":
        raise UnreadableHeader("header is not six lines")
    v, entry_id, record, log, seq, key = lines[:6]
    if not v.isdigit() or v.startswith("0") or len(v) > 4:
        raise UnreadableHeader("v is not a version")
    for name, value in (("id", entry_id), ("record", record)):
        if not is_uuid7(value):
            raise UnreadableHeader(f"{name} is not a UUIDv7")
    if log != DESK_LOG and not is_uuid7(log):
        raise UnreadableHeader("log is neither a UUIDv7 nor desk")
    if not _SEQ.fullmatch(seq) or int(seq) > LARGEST_INTEGER:
        raise UnreadableHeader("seq is not a whole number from 1")
    if key != NO_KEY and not is_uuid7(key):
        raise UnreadableHeader("key is neither a UUIDv7 nor -")
    return Header(int(v), entry_id, record, log, int(seq), key)


def is_uuid7(text: str) -> bool:
    """Return whether `text` is a lower-case UUID of version 7 (RFC 9562)."""
    return _UUID7.fullmatch(text) is not None


def uuid7(now_ms: int | None = None, random: bytes | None = None) -> str:
    """Make a UUIDv7: 48 bits of Unix milliseconds, then random.

    Source: RFC 9562, section 5.7.
    """
    ms = int(time.time() * 1000) if now_ms is None else now_ms
    tail = bytearray(secrets.token_bytes(10) if random is None else random)
    tail[0] = 0x70 | (tail[0] & 0x0F)
    tail[2] = 0x80 | (tail[2] & 0x3F)
    text = (ms.to_bytes(6, "big") + bytes(tail)).hex()
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))


def encode_body(fields: dict[str, Any]) -> bytes:
    """Make a body's bytes, once; `fields` are the keys of BODY_KEYS.

    Raises KeyError: when one is missing.
    """
    return _ENCODER.encode({key: fields[key] for key in BODY_KEYS}).encode()


def decode_body(raw: bytes) -> dict[str, Any]:
    """Read a body. Raises UnreadableBody: when it is not of the fixed form."""
    try:
        body = read_plain(raw)
    except NotPlain:
        body = read_strictly(raw)
    if not isinstance(body, dict) or body.keys() != _BODY_KEYS:
        raise UnreadableBody("a body has exactly these keys: " + ", ".join(BODY_KEYS))
    _check_words(body)
    return body


def read_strictly(raw: bytes) -> Any:
    """Return what JSON says in whole numbers below 2^53, without a key twice.

    Raises UnreadableBody: for anything else.
    """
    try:
        return _BODY_DECODER.decode(raw.decode())
    except (ValueError, RecursionError) as error:
        raise UnreadableBody(str(error)) from error


def digest(header: bytes, body_sha256: str) -> str:
    """Return the entry digest, SHA-256(header ‖ SHA-256(body)), in hex."""
    return hashlib.sha256(header + bytes.fromhex(body_sha256)).hexdigest()


def links(header: bytes, body: bytes, previous: str) -> tuple[str, str, str]:
    """Return a body's SHA-256, its entry's digest and the chain with it, in hex."""
    body_sha256 = hashlib.sha256(body)
    entry = hashlib.sha256(header + body_sha256.digest())
    linked = hashlib.sha256(bytes.fromhex(previous) + entry.digest())
    return body_sha256.hexdigest(), entry.hexdigest(), linked.hexdigest()


def chain(previous: str, entry_digest: str) -> str:
    """Return SHA-256(previous chain ‖ entry digest), in hex."""
    joined = bytes.fromhex(previous) + bytes.fromhex(entry_digest)
    return hashlib.sha256(joined).hexdigest()


def sha256_hex(raw: bytes) -> str:
    """Return the SHA-256 of `raw` in lower-case hex."""
    return hashlib.sha256(raw).hexdigest()


def _small_integer(text: str) -> int:
    if len(text) > 17 or abs(int(text)) > LARGEST_INTEGER:
        raise ValueError("an integer of 2^53 or more")
    return int(text)


def _no_number(text: str) -> Any:
    raise ValueError(f"the number {text[:20]} is not a whole one")


def _without_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise ValueError("a key stands twice")
    return found


# Made once: they cost as much as what they decode and encode.
_BODY_DECODER = json.JSONDecoder(
    parse_int=_small_integer,
    parse_float=_no_number,
    parse_constant=_no_number,
    object_pairs_hook=_without_repeats,
)
_ENCODER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"))


def _check_words(body: dict[str, Any]) -> None:
    if not isinstance(body["path"], str) or not body["path"]:
        raise UnreadableBody("path is not text")
    if body["op"] not in OPS:
        raise UnreadableBody("op is none of " + ", ".join(OPS))
    seen = body["seen"]
    if not isinstance(seen, list) or not all(isinstance(s, str) for s in seen):
        raise UnreadableBody("seen is not a list of entry ids")
    if body["source"] not in SOURCES or body["how"] not in HOWS:
        raise UnreadableBody("source or how is not a known word")
    at = body["at"]
    if not isinstance(at, dict) or not isinstance(at.get("utc"), str):
        raise UnreadableBody("at is not a moment")
    for who in ("author", "entered_by"):
        if not isinstance(body[who], dict) or not isinstance(
            body[who].get("name"), str
        ):
            raise UnreadableBody(f"{who} is not a person")
    if body["called_by"] is not None and not isinstance(body["called_by"], dict):
        raise UnreadableBody("called_by is not a person")
    if not isinstance(body["salt"], str):
        raise UnreadableBody("salt is not text")
