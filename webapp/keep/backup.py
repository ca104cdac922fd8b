"""Copy the database while the server writes, prove the copy, then give it its name."""

from __future__ import annotations

import fcntl
import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from sqlite_utils import Database

from webapp.db import connect
from webapp.keep.copies import LastBackup, note_backup
from webapp.keep.files import force_to_disk, is_same_disk
from webapp.keep.proof import prove
from webapp.keep.stamp import Stamp, put_stamp, read_stamp
from webapp.record import log
from webapp.say import say
from webapp.settings import Settings

# Four megabytes a step: the copy lets go of the source between steps.
STEP_PAGES = 1000
COUNTED = ("entry", "record", "note", "photo", "person", "tablet")
OnStep = Callable[[int, int, int], object]


class CannotBackUp(Exception):
    """No backup was made; the text says why."""


@dataclass(frozen=True, slots=True)
class Made:
    """A proven backup. `sha256`: of the whole file; `counts`: rows by table."""

    file: Path
    size_bytes: int
    sha256: str
    stamp: Stamp
    counts: dict[str, int]
    is_elsewhere: bool


def back_up(
    site: Settings,
    file: Path,
    *,
    may_replace: bool = False,
    is_carried_off: bool = False,
    on_step: OnStep | None = None,
) -> Made:
    """Make a backup of a site's database in `file`, proven before it has that name.

    `is_carried_off`: somebody takes the file off this disk, so it counts as copied.
    Writes to nothing but the target and the note of the last backup. Raises
    CannotBackUp, NotProven: then there is no file, or the one there was before.
    """
    target = file.absolute()
    _check_target(site, target, may_replace)
    part = target.with_name(target.name + ".part")
    try:
        taken = _take(part)
    except OSError as error:
        raise CannotBackUp(_not_written(target, error)) from error
    try:
        made = _make(site, target, part, is_carried_off, on_step)
    except (OSError, sqlite3.OperationalError) as error:
        raise CannotBackUp(_not_written(target, error)) from error
    finally:
        _drop(part)
        os.close(taken)
    note_backup(site.home, _noted(made))
    return made


def _check_target(site: Settings, target: Path, may_replace: bool) -> None:
    if not site.database.exists():
        raise CannotBackUp(say("keep.no_database", home=site.home))
    if not target.parent.is_dir():
        raise CannotBackUp(say("keep.no_folder", folder=target.parent))
    if target.is_dir() or target == site.database.absolute():
        raise CannotBackUp(say("keep.not_a_place", file=target))
    if target.exists() and not may_replace:
        raise CannotBackUp(say("keep.there_already", file=target))


def _take(part: Path) -> int:
    """Take the name under which the copy grows; one left by a kill is used again."""
    flags = os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW
    taken = os.open(part, flags, 0o600)
    try:
        fcntl.flock(taken, fcntl.LOCK_EX | fcntl.LOCK_NB)
        os.fchmod(taken, 0o600)
        os.ftruncate(taken, 0)
    except BlockingIOError as error:
        os.close(taken)
        raise CannotBackUp(say("keep.made_now", file=part)) from error
    except OSError:
        os.close(taken)
        raise
    return taken


def _make(
    site: Settings,
    target: Path,
    part: Path,
    is_carried_off: bool,
    on_step: OnStep | None,
) -> Made:
    stamp, counts = _copy(site.database, part, on_step)
    sha256 = put_stamp(part, stamp)
    force_to_disk(part)
    prove(part, read_stamp(part))
    size_bytes = part.stat().st_size
    part.replace(target)
    force_to_disk(target.parent)
    is_elsewhere = is_carried_off or not is_same_disk(target.parent, site.home)
    return Made(target, size_bytes, sha256, stamp, counts, is_elsewhere)


def _copy(
    database: Path, part: Path, on_step: OnStep | None
) -> tuple[Stamp, dict[str, int]]:
    """Copy one moment of the database, page by page; return its head and counts."""
    source = connect(database)
    target = sqlite3.connect(part, isolation_level=None)
    with closing(source.conn), closing(target):
        # The open read keeps that moment: what is written meanwhile neither waits
        # for the copy nor makes it begin again.
        source.conn.execute("BEGIN")
        stamp, counts = _stamp(source), _counts(source)
        target.execute("PRAGMA synchronous = OFF")
        source.conn.backup(target, pages=STEP_PAGES, progress=on_step, sleep=0)
        source.conn.execute("ROLLBACK")
        # One file, nothing beside it.
        target.execute("PRAGMA journal_mode = DELETE")
    return stamp, counts


def _stamp(db: Database) -> Stamp:
    (entries,) = db.conn.execute("SELECT count(*) FROM entry").fetchone()
    head = log.head(db)
    return Stamp(log.utc_now(), entries, head.position, head.chain)


def _counts(db: Database) -> dict[str, int]:
    return {name: db[name].count for name in COUNTED}


def _drop(part: Path) -> None:
    for end in ("", "-wal", "-shm", "-journal"):
        part.with_name(part.name + end).unlink(missing_ok=True)


def _not_written(target: Path, error: Exception) -> str:
    because = getattr(error, "strerror", None) or str(error)
    return say("keep.not_written", file=target, because=because)


def _noted(made: Made) -> LastBackup:
    return LastBackup(
        str(made.file),
        made.stamp.made_at,
        made.stamp.position,
        made.stamp.chain,
        made.sha256,
        made.is_elsewhere,
    )
