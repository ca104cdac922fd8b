"""What can be shown of a photo that an entry names: the picture, or why there is none.

Whether bytes and entry fit each other is asked here, whenever somebody looks, so that
it does not matter which of them came first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sqlite_utils import Database

from webapp.db import writing
from webapp.record import photos, wraps
from webapp.record.entry import sha256_hex
from webapp.record.keyring import Keyring
from webapp.record.open_record import OpenRecord
from webapp.record.photo import about
from webapp.record.photo_named import Named, named_photos
from webapp.record.photo_picture import read_picture
from webapp.record.photos import View
from webapp.record.seal import CannotOpen, open_sealed
from webapp.record.tablet_logs import tablet_name
from webapp.record.wraps import Keys

State = Literal["shown", "awaited", "cannot", "erased"]


@dataclass(frozen=True, slots=True)
class Seen:
    """One photo, as far as it can be shown.

    `because`: key of why it cannot be; `tablet`: name of the tablet that has it still,
    "" when nobody knows; `remark`: key of what is odd about it, or "".
    """

    named: Named
    state: State
    because: str = ""
    tablet: str = ""
    remark: str = ""
    width: int = 0
    height: int = 0
    received_at: str = ""


def seen_photos(db: Database, keyring: Keyring, found: OpenRecord) -> list[Seen]:
    """Return every photo that a record's entries name. Makes views that are missing."""
    return [_seen(db, keyring, found, one) for one in named_photos(found.case)]


def seen_by_place(seen: list[Seen]) -> dict[str, list[Seen]]:
    """Return them by the path of their field, or the id of their row."""
    places: dict[str, list[Seen]] = {}
    for one in seen:
        places.setdefault(one.named.place, []).append(one)
    return places


def opened_view(db: Database, keyring: Keyring, sealed: str) -> View | None:
    """Return what is known of a photo that is here; None while its seal is closed.

    The first call opens, decodes and keeps it.
    """
    known = photos.view(db, sealed)
    if known is not None:
        return known
    plain = original_bytes(db, keyring, sealed)
    if plain is None:
        return None
    made = read_picture(plain)
    with writing(db):
        photos.keep_view(db, sealed, sha256_hex(plain), len(plain), made)
    return photos.view(db, sealed)


def original_bytes(db: Database, keyring: Keyring, sealed: str) -> bytes | None:
    """Return a photo's original bytes, None while its seal is closed. Never served."""
    here, raw = photos.place(db, sealed), photos.sealed_bytes(db, sealed)
    if here is None or raw is None:
        return None
    key = _key(db, keyring, here.key, here.record)
    try:
        return open_sealed(key, about(here.record, here.key), raw) if key else None
    except CannotOpen:
        return None


def _key(db: Database, keyring: Keyring, key: str, record: str) -> bytes | None:
    own = wraps.log_of(db, key)
    keys = Keys(keyring, [])
    keys.add_kept(db, [key])
    return keys.key_for(key, record, own) if own else None


def _seen(db: Database, keyring: Keyring, found: OpenRecord, named: Named) -> Seen:
    if photos.is_erased(db, named.sealed):
        return Seen(named, "erased", "photo.cannot.erased")
    here = photos.place(db, named.sealed)
    if here is None:
        return Seen(named, "awaited", tablet=_holder(db, found, named))
    if here.record != found.id:
        # Else an entry could bring another patient's picture into this record.
        return Seen(named, "cannot", "photo.cannot.record")
    view = opened_view(db, keyring, named.sealed)
    if view is None:
        return Seen(named, "cannot", "photo.cannot.seal", received_at=here.received_at)
    because = view.because
    if view.plain_sha256 != named.sha256:
        because = "photo.cannot.differs"
    return Seen(
        named,
        "cannot" if because else "shown",
        because,
        remark="" if because else _remark(view, named),
        width=view.width,
        height=view.height,
        received_at=here.received_at,
    )


def _remark(view: View, named: Named) -> str:
    if view.type != named.type:
        return "photo.remark.type"
    return "photo.remark.size" if view.size != named.size else ""


def _holder(db: Database, found: OpenRecord, named: Named) -> str:
    """Return the name of the tablet whose entry first named the photo."""
    name = named.sealed.encode()
    logs = (e.header.log for e in found.logged if name in (e.body or b""))
    return next(filter(None, (tablet_name(db, log) for log in logs)), "")
