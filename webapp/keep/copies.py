"""The last proven backup of a home, and up to which entry it reaches."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path

from sqlite_utils import Database

from webapp.keep.files import write_whole
from webapp.record import log

FILE = "backup.json"


@dataclass(frozen=True, slots=True)
class LastBackup:
    """A backup that was proven. `is_elsewhere`: not on the database's own disk."""

    file: str
    made_at: str
    position: int
    chain: str
    sha256: str
    is_elsewhere: bool


def note_backup(home: Path, made: LastBackup) -> None:
    """Remember a backup; one on this disk never hides one that is elsewhere."""
    kept = _read(home)
    kept["elsewhere" if made.is_elsewhere else "here"] = asdict(made)
    write_whole(home / FILE, json.dumps(kept, indent=1).encode())


def last_backup(home: Path) -> LastBackup | None:
    """Return the newest backup that was proven, wherever it lies, or None."""
    found = [b for b in map(_backup, _read(home).values()) if b is not None]
    return max(found, key=lambda made: made.made_at, default=None)


def copied_upto(home: Path, db: Database) -> int:
    """Return the position up to which a backup off this disk holds the log.

    0 when there is none, or when the log is no longer the one that was copied.
    """
    made = _backup(_read(home).get("elsewhere"))
    if made is None or log.chain_at(db, made.position) != made.chain:
        return 0
    return made.position


def _read(home: Path) -> dict[str, object]:
    try:
        found = json.loads((home / FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        # Without the note a signature says "not yet copied", which errs to the right.
        return {}
    return found if isinstance(found, dict) else {}


def _backup(given: object) -> LastBackup | None:
    if not isinstance(given, dict):
        return None
    try:
        made = LastBackup(**given)
    except TypeError:
        return None
    is_right = type(made.position) is int and isinstance(made.made_at, str)
    return made if is_right else None
