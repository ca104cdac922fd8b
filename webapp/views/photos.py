"""The desk's side of photos: what is shown of each, never the original."""

from __future__ import annotations

from flask import Blueprint, Response, current_app

from webapp.app_db import get_db
from webapp.errors import NotFound
from webapp.people import access_log
from webapp.record import photos
from webapp.record.photo_seen import Seen, seen_photos
from webapp.views.desk_auth import current_person, requires
from webapp.views.review import READERS, readable_record

bp = Blueprint("photos", __name__)


@bp.get("/records/<record>/photos/<sealed>.jpg")
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
