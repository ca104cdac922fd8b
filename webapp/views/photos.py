"""The desk's side of photos: what is shown of each, never the original."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, current_app, g

from webapp.app_db import get_db
from webapp.errors import NotFound
from webapp.people import access_log
from webapp.record import photos
from webapp.record.open_record import OpenRecord
from webapp.record.photo_seen import Seen, seen_by_place, seen_photos
from webapp.views.desk_auth import current_person, requires
from webapp.views.review import READERS, readable_record

bp = Blueprint("photos", __name__)


@bp.app_context_processor
def _page_words() -> dict[str, Any]:
    return {
        "photos_at": photos_at,
        "photos_awaited": photos_awaited,
        "is_photo_late": _is_late,
    }


def photos_at(found: OpenRecord, place: str) -> list[Seen]:
    """Return the photos beside a field, by its path, or in a row, by its id."""
    return seen_by_place(_seen(found)).get(place, [])


def photos_awaited(found: OpenRecord) -> int:
    """Return how many photos that count have not reached this server."""
    here = [one for one in _seen(found) if not one.named.is_struck]
    return sum(one.state == "awaited" for one in here)


def _seen(found: OpenRecord) -> list[Seen]:
    if "photos_seen" not in g:
        keyring = current_app.extensions["keyring"]
        g.photos_seen = seen_photos(get_db(), keyring, found)
        g.photos_signed_at = photos.last_note_at(get_db(), found.id)
    known: list[Seen] = g.photos_seen
    return known


def _is_late(one: Seen) -> bool:
    """Return whether a photo came after the record's last signed note was made."""
    return bool(g.photos_signed_at) and one.received_at > str(g.photos_signed_at)


@bp.get("/records/<record>/photos/<sealed>")
@requires(*READERS)
def shown(record: str, sealed: str) -> Response:
    """Hand out the picture that stands for a photo which this record names."""
    found = readable_record(record)
    keyring = current_app.extensions["keyring"]
    seen = seen_photos(get_db(), keyring, found)
    if not any(_is_shown(one, sealed) for one in seen):
        raise NotFound
    data = photos.shown_bytes(get_db(), sealed)
    if data is None:
        raise NotFound
    access_log.record_access(get_db(), current_person().id, "photo", record, sealed)
    answer = Response(data, mimetype="image/jpeg")
    name = f"wiremark-{record[:8]}-{sealed[:8]}.jpg"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


def _is_shown(one: Seen, sealed: str) -> bool:
    return one.state == "shown" and one.named.sealed == sealed
