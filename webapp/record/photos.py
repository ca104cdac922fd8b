"""The photos a site holds: the only SQL on their sealed bytes, and on what is shown.

Sealed bytes are evidence: kept as they came, never changed, gone only with an erasure.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlite_utils import Database

from webapp.record.log import utc_now
from webapp.record.photo import SealedPhoto
from webapp.record.photo_picture import Picture


@dataclass(frozen=True, slots=True)
class Place:
    """Where a photo that is held belongs."""

    record: str
    key: str
    tablet: str
    received_at: str


@dataclass(frozen=True, slots=True)
class View:
    """What is known of an opened photo. `because`: key of why it cannot be shown."""

    plain_sha256: str
    size: int
    type: str
    width: int
    height: int
    because: str


@dataclass(frozen=True, slots=True)
class Held:
    """Which of the photos asked after are not here, and which were erased."""

    lacking: tuple[str, ...]
    erased: tuple[str, ...]


def place(db: Database, sealed: str) -> Place | None:
    """Return where a photo belongs; None when its bytes are not here."""
    row = db.conn.execute(
        "SELECT record, key, tablet, received_at FROM photo WHERE sealed_sha256 = ?",
        (sealed,),
    ).fetchone()
    return Place(*row) if row else None


def sealed_bytes(db: Database, sealed: str) -> bytes | None:
    """Return a photo's bytes as they came."""
    row = db.conn.execute(
        "SELECT bytes FROM photo WHERE sealed_sha256 = ?", (sealed,)
    ).fetchone()
    return bytes(row[0]) if row else None


def is_erased(db: Database, sealed: str) -> bool:
    """Return whether a photo was erased, or an entry naming it was."""
    row = db.conn.execute(
        "SELECT 1 FROM photo_erased WHERE sealed_sha256 = ?", (sealed,)
    ).fetchone()
    return row is not None


def keep(db: Database, tablet: str, photo: SealedPhoto, at: str) -> None:
    """Keep a photo's sealed bytes. Call inside `writing(db)`.

    Raises sqlite3.IntegrityError: it is here already, or was erased; ask before.
    """
    db.conn.execute(
        "INSERT INTO photo (sealed_sha256, record, key, tablet, bytes, received_at)"
        " VALUES (?, ?, ?, ?, ?, ?)",
        (photo.sealed, photo.record, photo.key, tablet, photo.raw, at),
    )


def held(db: Database, asked: Iterable[str]) -> Held:
    """Return what a tablet must send again of the photos it asks after."""
    lacking: list[str] = []
    erased: list[str] = []
    for sealed in dict.fromkeys(asked):
        if is_erased(db, sealed):
            erased.append(sealed)
        elif place(db, sealed) is None:
            lacking.append(sealed)
    return Held(tuple(lacking), tuple(erased))


def view(db: Database, sealed: str) -> View | None:
    """Return what is known of a photo; None when it was never opened."""
    row = db.conn.execute(
        "SELECT plain_sha256, size, type, width, height, because FROM photo_view"
        " WHERE sealed_sha256 = ?",
        (sealed,),
    ).fetchone()
    return View(*row) if row else None


def shown_bytes(db: Database, sealed: str) -> bytes | None:
    """Return the picture that stands for a photo on screens and paper, as JPEG."""
    row = db.conn.execute(
        "SELECT jpeg FROM photo_view WHERE sealed_sha256 = ?", (sealed,)
    ).fetchone()
    return bytes(row[0]) if row and row[0] is not None else None


def keep_view(db: Database, sealed: str, digest: str, size: int, made: Picture) -> None:
    """Keep what is shown of a photo; the first stands. Call inside `writing(db)`."""
    db.conn.execute(
        "INSERT INTO photo_view SELECT ?, ?, ?, ?, ?, ?, ?, ?"
        " WHERE EXISTS (SELECT 1 FROM photo WHERE sealed_sha256 = ?)"
        " ON CONFLICT (sealed_sha256) DO NOTHING",
        (sealed, digest, size, made.type, made.width, made.height, made.because,
         made.jpeg, sealed),
    )  # fmt: skip


def last_note_at(db: Database, record: str) -> str:
    """Return when the record's newest signed note was made, "" when there is none."""
    row = db.conn.execute(
        "SELECT coalesce(max(made_at), '') FROM note WHERE record = ?", (record,)
    ).fetchone()
    return str(row[0])


def erase(db: Database, record: str, named: Iterable[str], reason_entry: str) -> None:
    """Erase photos of a record, here or still to come. Call inside `writing(db)`.

    `named`: by the entry that is erased. A photo of another record stays: an entry
    that names it has no say over it.
    """
    for sealed in dict.fromkeys(named):
        here = place(db, sealed)
        if here is not None and here.record != record:
            continue
        db.conn.execute(
            "INSERT INTO photo_erased VALUES (?, ?, ?, ?)"
            " ON CONFLICT (sealed_sha256) DO NOTHING",
            (sealed, record, reason_entry, utc_now()),
        )
        db.conn.execute("DELETE FROM photo_view WHERE sealed_sha256 = ?", (sealed,))
        db.conn.execute("DELETE FROM photo WHERE sealed_sha256 = ?", (sealed,))
