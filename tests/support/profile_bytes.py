"""Every byte a browser left in its profile, also of what lies there compressed."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Iterator
from pathlib import Path

# LevelDB's own formats (its doc/table_format.md and doc/log_format.md), and the mark
# with which Chromium begins a value it compressed by itself.
_FOOTER = 48
_MAGIC = bytes.fromhex("57fb808b247547db")
_SNAPPY = 1
_TRAILER = 5
_LOG_BLOCK = 32768
_LOG_HEADER = 7
_VALUE_MARK = b"\xff\x11\x02"


class NotSnappy(ValueError):
    """Bytes that are no whole run of this compression."""


def found_in(profile: Path, texts: Iterable[str]) -> set[str]:
    """Return those of `texts` that any file of a profile holds.

    As UTF-8, UTF-16 of both orders, or base64 of either, at any place in its run.
    """
    wanted = {text: _shapes(text) for text in texts}
    found: set[str] = set()
    for whole in _views(profile):
        for text, shapes in wanted.items():
            if text not in found and any(shape in whole for shape in shapes):
                found.add(text)
    return found


def _shapes(text: str) -> list[bytes]:
    plain = [text.encode(code) for code in ("utf-8", "utf-16-le", "utf-16-be")]
    return [*plain, *(one for raw in plain for one in _as_base64(raw))]


def _as_base64(raw: bytes) -> list[bytes]:
    """Return the part of its base64 that stands wherever in a run the bytes begin."""
    found = []
    for before in range(3):
        run = base64.b64encode(b"\0" * before + raw)
        # The first signs hold what comes before, the last what comes after.
        whole = run[-(-before * 4 // 3) :]
        found.append(whole.rstrip(b"=")[: -1 if whole.endswith(b"=") else None])
    return found


def _views(profile: Path) -> Iterator[bytes]:
    for file in sorted(profile.rglob("*")):
        if not file.is_file() or file.is_symlink():
            continue
        raw = file.read_bytes()
        yield raw
        parts = [raw]
        if raw.endswith(_MAGIC):
            parts = list(_blocks(raw))
        elif file.suffix == ".log":
            parts = [_records(raw)]
        for part in parts:
            if part is not raw:
                yield part
            yield from _values(part)


def _blocks(table: bytes) -> Iterator[bytes]:
    """Yield each block of a table file, decompressed."""
    footer = table[-_FOOTER:]
    at = 0
    _, at = _varint(footer, at)
    _, at = _varint(footer, at)
    start, at = _varint(footer, at)
    size, at = _varint(footer, at)
    index = _block(table, start, size)
    for handle in _index_values(index):
        first, after = _varint(handle, 0)
        length, _ = _varint(handle, after)
        yield _block(table, first, length)


def _block(table: bytes, start: int, size: int) -> bytes:
    raw = table[start : start + size]
    return decompressed(raw) if table[start + size] == _SNAPPY else raw


def _index_values(block: bytes) -> Iterator[bytes]:
    restarts = int.from_bytes(block[-4:], "little")
    end = len(block) - 4 - 4 * restarts
    at = 0
    while at < end:
        _, at = _varint(block, at)
        rest, at = _varint(block, at)
        length, at = _varint(block, at)
        yield block[at + rest : at + rest + length]
        at += rest + length


def _records(log: bytes) -> bytes:
    """Return what a log tells, its records joined over the ends of blocks."""
    told = bytearray()
    for start in range(0, len(log), _LOG_BLOCK):
        block = log[start : start + _LOG_BLOCK]
        at = 0
        while at + _LOG_HEADER <= len(block):
            length = int.from_bytes(block[at + 4 : at + 6], "little")
            told += block[at + _LOG_HEADER : at + _LOG_HEADER + length]
            at += _LOG_HEADER + length
    return bytes(told)


def _values(raw: bytes) -> Iterator[bytes]:
    at = raw.find(_VALUE_MARK)
    while at >= 0:
        yield decompressed(raw[at + len(_VALUE_MARK) :], is_cut=True)
        at = raw.find(_VALUE_MARK, at + 1)


def decompressed(raw: bytes, is_cut: bool = False) -> bytes:
    """Return what a run of Snappy's raw format holds.

    `is_cut`: other bytes may follow, or it is no such run: then what was read so far.
    Raises NotSnappy.
    """
    out = bytearray()
    try:
        length, at = _varint(raw, 0)
        while at < len(raw) and len(out) < length:
            at = _element(raw, at, out)
    except (IndexError, NotSnappy) as error:
        if not is_cut:
            raise NotSnappy(len(out)) from error
        return bytes(out)
    if len(out) != length and not is_cut:
        raise NotSnappy(len(out))
    return bytes(out)


def _element(raw: bytes, at: int, out: bytearray) -> int:
    tag = raw[at]
    kind, size = tag & 3, (tag >> 2) + 1
    at += 1
    if kind == 0:
        if size > 60:
            extra = size - 60
            size = int.from_bytes(raw[at : at + extra], "little") + 1
            at += extra
        out += raw[at : at + size]
        return at + size
    if kind == 1:
        size, back = ((tag >> 2) & 7) + 4, ((tag >> 5) << 8) | raw[at]
        at += 1
    else:
        width = 2 if kind == 2 else 4
        back = int.from_bytes(raw[at : at + width], "little")
        at += width
    if not 0 < back <= len(out):
        raise NotSnappy(back)
    for _ in range(size):
        out.append(out[-back])
    return at


def _varint(raw: bytes, at: int) -> tuple[int, int]:
    number = shift = 0
    while True:
        byte = raw[at]
        at += 1
        number |= (byte & 127) << shift
        shift += 7
        if byte < 128:
            return number, at
