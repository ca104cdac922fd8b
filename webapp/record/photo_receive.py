"""Take in one photo of a tablet: keep the sealed bytes, then see what they show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import log, photos, tablet_logs, wraps
from webapp.record.keyring import Keyring
from webapp.record.photo import SealedPhoto
from webapp.record.photo_seen import opened_view
from webapp.record.receive import Sender
from webapp.record.wraps import Keys

Word = Literal["kept", "had", "erased"]


@dataclass(frozen=True, slots=True)
class NotTaken:
    """Why a photo was not kept: its tablet keeps it. `because`: key of the reason."""

    how: Literal["damaged", "not_its_own", "taken"]
    because: str


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a photo. `because`: key of why it cannot be shown, or ""."""

    word: Word
    because: str


def receive(
    db: Database,
    keyring: Keyring,
    sender: Sender,
    photo: SealedPhoto,
    at: str | None = None,
) -> Taken | NotTaken:
    """Keep one photo, and say what became of it; a second receipt changes nothing.

    The sealed bytes are on the disk before anything looks at what they show.
    """
    if not photo.is_whole:
        return NotTaken("damaged", "photo.refused.damaged")
    keys = Keys(keyring, [photo.wrap] if photo.wrap else [])
    now = at or log.utc_now()
    with writing(db):
        told = _keep(db, sender, photo, keys, now)
    if isinstance(told, NotTaken) or told == "erased":
        return told if isinstance(told, NotTaken) else Taken("erased", "")
    view = opened_view(db, keyring, photo.sealed)
    return Taken(told, view.because if view else "photo.cannot.seal")


def _keep(
    db: Database, sender: Sender, photo: SealedPhoto, keys: Keys, now: str
) -> Word | NotTaken:
    if not tablet_logs.claim(db, sender.tablet, [photo.log], now):
        return NotTaken("not_its_own", "refused.log")
    if photos.is_erased(db, photo.sealed):
        return "erased"
    here = photos.place(db, photo.sealed)
    if here is not None and (here.record, here.key) != (photo.record, photo.key):
        return NotTaken("taken", "photo.refused.taken")
    # A key that was lost, or that another server key wrapped, may come along later.
    wraps.keep(db, sender.tablet, [photo.wrap] if photo.wrap else [], keys)
    if here is not None:
        return "had"
    if sender.is_revoked and not _is_named(db, photo):
        return NotTaken("not_its_own", "photo.refused.revoked")
    photos.keep(db, sender.tablet, photo, now)
    return "kept"


def _is_named(db: Database, photo: SealedPhoto) -> bool:
    """Return whether an entry that is here names the photo: such a one is awaited."""
    name = photo.sealed.encode()
    return any(
        name in (entry.body or b"") for entry in log.entries_of(db, photo.record)
    )
