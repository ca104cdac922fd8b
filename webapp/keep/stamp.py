"""The last 512 bytes of a backup: what it is, up to where, and its digest.

A backup is an SQLite database with these bytes behind its last page, where SQLite does
not look: any tool reads it, and a cut or changed file is known for one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from webapp.keep.files import sha256_of_start

LENGTH = 512
_FORM = re.compile(
    rb"\nwiremark backup 1\nmade (?P<made_at>[0-9TZ:.-]{24})\n"
    rb"entries (?P<entries>\d{1,16})\nposition (?P<position>\d{1,16})\n"
    rb"chain (?P<chain>[0-9a-f]{64})\nsha256 (?P<sha256>[0-9a-f]{64})\n+"
)


class NotWhole(ValueError):
    """No backup, or not all of one, or changed since it was made.

    `key`: of the text that says which.
    """

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a backup says of itself. `made_at`: UTC text with milliseconds."""

    made_at: str
    entries: int
    position: int
    chain: str


def put_stamp(file: Path, stamp: Stamp) -> str:
    """Add the stamp behind a database; return the SHA-256 of the whole file, in hex."""
    length = file.stat().st_size
    summed = sha256_of_start(file, length)
    lines = _lines(stamp)
    summed.update(lines)
    raw = (lines + f"sha256 {summed.hexdigest()}\n".encode()).ljust(LENGTH, b"\n")
    with file.open("ab") as out:
        out.write(raw)
    return sha256_of_start(file, length + LENGTH).hexdigest()


def read_stamp(file: Path) -> Stamp:
    """Return the stamp of a backup whose every byte is as it was made.

    Raises NotWhole: it has no stamp, or its digest is another.
    """
    length = database_bytes(file)
    with file.open("rb") as given:
        given.seek(max(0, length))
        raw = given.read()
    found = _FORM.fullmatch(raw) if length > 0 and len(raw) == LENGTH else None
    if found is None:
        raise NotWhole("keep.no_stamp")
    told = {name: text.decode() for name, text in found.groupdict().items()}
    stamp = Stamp(
        told["made_at"], int(told["entries"]), int(told["position"]), told["chain"]
    )
    summed = sha256_of_start(file, length)
    summed.update(_lines(stamp))
    if summed.hexdigest() != told["sha256"]:
        raise NotWhole("keep.changed")
    return stamp


def database_bytes(file: Path) -> int:
    """Return how many bytes of a backup are the database itself."""
    return file.stat().st_size - LENGTH


def _lines(stamp: Stamp) -> bytes:
    return (
        f"\nwiremark backup 1\nmade {stamp.made_at}\nentries {stamp.entries}\n"
        f"position {stamp.position}\nchain {stamp.chain}\n"
    ).encode()
