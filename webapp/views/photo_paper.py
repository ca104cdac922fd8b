"""What the note prints of a record's photos."""

from __future__ import annotations

from flask import current_app

from webapp.app_db import get_db
from webapp.note.model import NotePhoto
from webapp.record import photos
from webapp.record.open_record import OpenRecord
from webapp.record.photo_seen import Seen, seen_photos
from webapp.say import say


def note_photos(found: OpenRecord) -> dict[tuple[str, str], NotePhoto]:
    """Return each photo that counts, by its entry and its sealed name."""
    seen = seen_photos(get_db(), current_app.extensions["keyring"], found)
    return {
        (one.named.entry, one.named.sealed): _printed(one)
        for one in seen
        if not one.named.is_struck
    }


def _printed(one: Seen) -> NotePhoto:
    if one.state == "shown":
        return NotePhoto("", photos.shown_bytes(get_db(), one.named.sealed))
    if one.state == "awaited":
        where = say("note.photo_on", tablet=one.tablet) if one.tablet else ""
        return NotePhoto(f"{say('note.photo_awaited')} {where}".strip())
    if one.state == "erased":
        return NotePhoto(say("photo.gone"))
    return NotePhoto(say("note.photo_cannot", because=say(one.because)))
