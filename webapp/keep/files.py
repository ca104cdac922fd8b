"""Files that are whole or not there: written beside, forced to disk, then renamed."""

from __future__ import annotations

import errno
import hashlib
import os
from pathlib import Path

# Stands while a restore swaps databases; whoever finds it knows it broke off.
MARKER_FILE = "restoring"
_CHUNK = 1 << 20


def force_to_disk(path: Path) -> None:
    """Wait until a file, or a folder's list of names, is on the disk."""
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    except OSError as error:
        # Some network and USB file systems keep folders without being asked.
        if error.errno != errno.EINVAL:
            raise
    finally:
        os.close(opened)


def write_whole(path: Path, raw: bytes) -> None:
    """Put a small private file in place, so that a crash leaves the old or the new."""
    beside = path.with_name(path.name + ".part")
    made = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(made, "wb") as out:
        out.write(raw)
        out.flush()
        os.fsync(out.fileno())
    beside.replace(path)
    force_to_disk(path.parent)


def copy_start(source: Path, target: Path, length: int) -> None:
    """Copy the first `length` bytes into a new private file, and force them to disk."""
    made = os.open(target, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(made, "wb") as out, source.open("rb") as given:
        left = length
        while left:
            chunk = given.read(min(_CHUNK, left))
            if not chunk:
                raise OSError(errno.EIO, "the file became shorter while it was read")
            out.write(chunk)
            left -= len(chunk)
        out.flush()
        os.fsync(out.fileno())


def sha256_of_start(path: Path, length: int) -> hashlib._Hash:
    """Return the running SHA-256 over a file's first `length` bytes."""
    summed = hashlib.sha256()
    with path.open("rb") as given:
        left = length
        while left and (chunk := given.read(min(_CHUNK, left))):
            summed.update(chunk)
            left -= len(chunk)
    return summed


def is_same_disk(one: Path, other: Path) -> bool:
    """Return whether two folders lie on one file system, so are lost together."""
    return one.stat().st_dev == other.stat().st_dev
