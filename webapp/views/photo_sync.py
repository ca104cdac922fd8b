"""`POST /sync/photo`: one photo of a tablet; `POST /sync/photos`: which are lacking."""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, current_app, request
from flask.blueprints import BlueprintSetupState
from werkzeug.wrappers import Response

from webapp.app_db import get_db, settings
from webapp.errors import BadRequest, Conflict, Forbidden, Problem, TooLarge
from webapp.people.tablets import Tablet
from webapp.record import photo_receive, photos
from webapp.record.framing import UnreadablePush
from webapp.record.keyring import Keyring
from webapp.record.photo import (
    MOST_HEAD_BYTES,
    SealedPhoto,
    read_asked,
    read_photo,
)
from webapp.record.photo_receive import NotTaken
from webapp.record.receive import Sender
from webapp.record.seal import NONCE_BYTES, TAG_BYTES
from webapp.say import say
from webapp.views.tablet_token import tablet_here

bp = Blueprint("photo_sync", __name__)
CONTENT_TYPE = "application/wiremark-photo"
MIB = 1024 * 1024
MOST_ASKED_BYTES = 128 * 1024
_REFUSED = {"damaged": BadRequest, "not_its_own": Forbidden, "taken": Conflict}


@bp.record_once
def _prepare(state: BlueprintSetupState) -> None:
    # A tablet shows its token and no cookie, so there is nothing to forge.
    state.app.extensions["csrf"].exempt(bp)


@bp.post("/sync/photo")
def take() -> Response:
    """Keep one photo, commit, then answer for it by its name."""
    tablet = tablet_here()
    photo = _photo()
    keyring: Keyring = current_app.extensions["keyring"]
    sender = Sender(tablet.id, tablet.is_revoked)
    told = photo_receive.receive(get_db(), keyring, sender, photo)
    if isinstance(told, NotTaken):
        because = say(told.because)
        raise _REFUSED[told.how](because, (Problem("photo", told.how, because),))
    shown = say(told.because) if told.because else None
    answer = {"sealed": photo.sealed, "answer": told.word, "because": shown}
    return _json(tablet, answer)


@bp.post("/sync/photos")
def ask() -> Response:
    """Say which photos of a list are not here: a server may have gone back."""
    tablet = tablet_here()
    if (request.content_length or 0) > MOST_ASKED_BYTES:
        raise TooLarge
    try:
        asked = read_asked(json.loads(request.stream.read(MOST_ASKED_BYTES + 1)))
    except (ValueError, RecursionError) as error:
        raise BadRequest from error
    held = photos.held(get_db(), asked)
    answer = {
        "lacks": held.lacking,
        "erased": held.erased,
        # A tablet measures first: what is too large is not sent again and again.
        "most_bytes": _most_bytes(),
        "too_large": say("photo.too_large", mib=settings().photo_max_mib),
    }
    return _json(tablet, answer)


def _photo() -> SealedPhoto:
    if request.mimetype != CONTENT_TYPE:
        raise BadRequest(problems=(_wish("Content-Type", CONTENT_TYPE),))
    most = _most_bytes() + MOST_HEAD_BYTES
    if (request.content_length or 0) > most:
        raise _too_large()
    # One byte more than is allowed shows a body without a stated length.
    raw = request.stream.read(most + 1)
    try:
        photo = read_photo(raw)
    except UnreadablePush as error:
        raise BadRequest(problems=(_wish(error.field, error.expected),)) from error
    if len(photo.raw) > _most_bytes():
        raise _too_large()
    return photo


def _most_bytes() -> int:
    """Return how many sealed bytes one photo may have."""
    return settings().photo_max_mib * MIB + NONCE_BYTES + TAG_BYTES


def _too_large() -> TooLarge:
    words = say("photo.too_large", mib=settings().photo_max_mib)
    return TooLarge(words, (Problem("photo", "size", words),))


def _wish(field: str, expected: str) -> Problem:
    return Problem(field, "shape", say("sync.expected", expected=expected))


def _json(tablet: Tablet, told: dict[str, Any]) -> Response:
    reply = {"ok": True, **told, "revoked": tablet.is_revoked}
    text = json.dumps(reply, ensure_ascii=False, separators=(",", ":"))
    return current_app.response_class(text, mimetype="application/json")
