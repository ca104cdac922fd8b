"""Put a proven backup in place of the database, which is set aside, never removed."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlite_utils import Database

from webapp.db import connect, migrate, writing
from webapp.keep.copies import LastBackup, note_backup
from webapp.keep.files import (
    MARKER_FILE,
    copy_start,
    force_to_disk,
    is_same_disk,
    sha256_of_start,
    write_whole,
)
from webapp.keep.keys_apart import missing_keys
from webapp.keep.lost_entries import Beyond, beyond
from webapp.keep.proof import NotProven, prove
from webapp.keep.stamp import NotWhole, Stamp, database_bytes, read_stamp
from webapp.people import access_log, grants, tablets
from webapp.record import log, lost
from webapp.say import say
from webapp.settings import SECRET_FILE, Settings

ENDS = ("-wal", "-shm", "")


class CannotRestore(Exception):
    """Nothing was changed; the text says why."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What a restore would do. `keys_missing`: ids of server keys with no file."""

    file: Path
    stamp: Stamp
    beyond: Beyond
    is_there_a_database: bool
    keys_missing: tuple[str, ...]


def plan(site: Settings, file: Path) -> Plan:
    """Prove a backup and say what it would replace. Does not write.

    Raises CannotRestore: it is no whole backup, or it does not prove.
    """
    backup = file.absolute()
    if not backup.is_file():
        raise CannotRestore(say("keep.no_file", file=backup))
    try:
        stamp = read_stamp(backup)
        prove(backup, stamp)
    except NotWhole as error:
        raise CannotRestore(say(error.key, file=backup)) from error
    except (NotProven, OSError) as error:
        raise CannotRestore(say("keep.refused", file=backup, because=error)) from error
    return Plan(
        backup,
        stamp,
        beyond(site.database, backup),
        site.database.exists(),
        tuple(missing_keys(site.home, _server_keys(backup))),
    )


def restore(site: Settings, planned: Plan, now: datetime | None = None) -> Path | None:
    """Put a backup in place; return where the former database lies, or None.

    Call inside `alone(home)`. Every session and grant ends, every unused code is void:
    the backup knows nothing of those that ended since. Raises CannotRestore: somebody
    has the database open, or the disk takes no copy of it.
    """
    ready = site.home / f"{site.database.name}.restoring"
    at = now or datetime.now(UTC)
    try:
        copy_start(planned.file, ready, database_bytes(planned.file))
        _move_on(ready, planned)
        _close_up(site.database)
        aside = _swap(site, ready, at)
    except (OSError, sqlite3.OperationalError) as error:
        because = getattr(error, "strerror", None) or str(error)
        raise CannotRestore(
            say("keep.not_written", file=site.database, because=because)
        ) from error
    finally:
        for end in ENDS:
            ready.with_name(ready.name + end).unlink(missing_ok=True)
    _note(site, planned)
    return aside


def _server_keys(backup: Path) -> list[str]:
    uri = f"{backup.as_uri()}?immutable=1"
    with closing(sqlite3.connect(uri, uri=True)) as connection:
        rows = connection.execute("SELECT id FROM server_key ORDER BY id")
        return [str(row[0]) for row in rows]


def _move_on(ready: Path, planned: Plan) -> None:
    """Bring the copy to this version, and end what should not come back to life."""
    db = connect(ready)
    migrate(db)
    with writing(db):
        grants.end_all(db)
        tablets.void_codes(db)
        access_log.note(db, "database:restore", detail=planned.stamp.made_at)
        _note_lost(db, planned.beyond)
    _one_file(db)
    force_to_disk(ready)


def _note_lost(db: Database, found: Beyond) -> None:
    """Note desk entries that tablets know, so that their places are not used again."""
    now = log.utc_now()
    for entry in found.desk:
        if entry.tablet and tablets.by_id(db, entry.tablet) is not None:
            lost.note(db, entry.tablet, [entry.header], now)


def _one_file(db: Database) -> None:
    with closing(db.conn):
        db.conn.execute("PRAGMA journal_mode = DELETE")


def _close_up(database: Path) -> None:
    """Bring the present database into one file, if it can be read at all.

    Raises CannotRestore: when anybody has it open, which this step cannot share.
    """
    if not database.exists():
        return
    try:
        with closing(sqlite3.connect(database, timeout=1)) as one:
            (mode,) = one.execute("PRAGMA journal_mode = DELETE").fetchone()
    except sqlite3.OperationalError as error:
        raise CannotRestore(say("keep.open_elsewhere", file=database)) from error
    except sqlite3.DatabaseError:
        # Damaged: it is set aside as it is, with what stands beside it.
        return
    if mode != "delete":
        raise CannotRestore(say("keep.open_elsewhere", file=database))


def _swap(site: Settings, ready: Path, at: datetime) -> Path | None:
    """Change places under the marker, so that no server starts between two steps."""
    database, marker = site.database, site.home / MARKER_FILE
    aside = _free_name(database, at)
    is_there = database.exists()
    write_whole(marker, aside.name.encode())
    for end in ENDS:
        with suppress(FileNotFoundError):
            os.rename(database.with_name(database.name + end), f"{aside}{end}")
    os.rename(ready, database)
    # Cookies are signed with it: a new one is made at the next start, so an old
    # password or a session that was ended opens nothing.
    (site.home / SECRET_FILE).unlink(missing_ok=True)
    force_to_disk(site.home)
    marker.unlink()
    force_to_disk(site.home)
    return aside if is_there else None


def _free_name(database: Path, at: datetime) -> Path:
    name = f"{database.name}.aside-{at:%Y%m%dT%H%M%SZ}"
    found, number = database.with_name(name), 1
    while found.exists():
        number += 1
        found = database.with_name(f"{name}-{number}")
    return found


def _note(site: Settings, planned: Plan) -> None:
    """Remember that what now stands is held by the backup it came from."""
    length = planned.file.stat().st_size
    note_backup(
        site.home,
        LastBackup(
            str(planned.file),
            planned.stamp.made_at,
            planned.stamp.position,
            planned.stamp.chain,
            sha256_of_start(planned.file, length).hexdigest(),
            not is_same_disk(planned.file.parent, site.home),
        ),
    )
