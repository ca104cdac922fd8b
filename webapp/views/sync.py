"""`POST /sync`: one request in which a tablet gives and gets its entries."""

from __future__ import annotations

import sqlite3
from dataclasses import asdict
from typing import Any

import msgspec
from flask import Blueprint, current_app, request
from flask.blueprints import BlueprintSetupState
from werkzeug.wrappers import Response

from webapp.app_db import get_db, settings
from webapp.db import writing
from webapp.errors import BadRequest, Problem, TooLarge
from webapp.people import access_log, accounts
from webapp.people.accounts import Person
from webapp.people.tablets import Tablet
from webapp.record import log, pinned_limits, tablet_logs
from webapp.record.framing import (
    MOST_BYTES,
    MOST_IN_WORDS,
    Push,
    TooMuch,
    UnreadablePush,
    read_push,
)
from webapp.record.keyring import Keyring
from webapp.record.pull import Pulled, pull
from webapp.record.receive import Receipt, Sender, receive
from webapp.record.records import refold
from webapp.say import say
from webapp.views.tablet_token import granted_person, tablet_here
from webapp.views.turns import Turns

bp = Blueprint("sync", __name__)
CONTENT_TYPE = "application/wiremark-sync"


@bp.record_once
def _prepare(state: BlueprintSetupState) -> None:
    # A tablet shows its token and no cookie, so there is nothing to forge.
    state.app.extensions["csrf"].exempt(sync)
    state.app.extensions["turns"] = Turns()


@bp.post("/sync")
def sync() -> Response:
    """Keep what a tablet sends, commit, then answer with what it does not hold."""
    tablet = tablet_here()
    push = _push()
    sender = Sender(tablet.id, tablet.is_revoked)
    with current_app.extensions["turns"].turn(len(push.items)):
        receipt = receive(get_db(), _keyring(), sender, push)
        _refold(receipt)
    return _json(_reply(tablet, push, receipt))


def _push() -> Push:
    if request.mimetype != CONTENT_TYPE:
        raise BadRequest(problems=(_wish("Content-Type", CONTENT_TYPE),))
    if (request.content_length or 0) > MOST_BYTES:
        raise TooLarge(problems=(_wish("body", MOST_IN_WORDS),))
    try:
        # One byte more than is allowed shows a body without a stated length.
        return read_push(request.stream.read(MOST_BYTES + 1))
    except TooMuch as error:
        raise TooLarge(problems=(_wish(error.field, error.expected),)) from error
    except UnreadablePush as error:
        raise BadRequest(problems=(_wish(error.field, error.expected),)) from error


def _wish(field: str, expected: str) -> Problem:
    return Problem(field, "shape", say("sync.expected", expected=expected))


def _refold(receipt: Receipt) -> None:
    """Bring the records list up to date; the entries are kept whatever comes of it."""
    if not receipt.touched:
        return
    try:
        refold(get_db(), receipt.touched, receipt.fresh)
    except sqlite3.Error:
        # They stay marked; a lost answer would only have them sent twice.
        current_app.logger.exception("records not refolded: %s", receipt.touched)


def _reply(tablet: Tablet, push: Push, receipt: Receipt) -> dict[str, Any]:
    shares: list[Pulled] = []
    listed: list[dict[str, str]] = []
    if not tablet.is_revoked:
        shares = _shares(tablet, push, receipt)
        listed = [person.as_listed() for person in accounts.active_people(get_db())]
    return {
        "ok": True,
        "server_time": log.utc_now(),
        "answers": [answer.as_json() for answer in receipt.answers],
        "logs": [{"log": name, "held": seq} for name, seq in receipt.held.items()],
        "head": asdict(receipt.head),
        "head_known": receipt.head_known,
        "went_back": receipt.went_back,
        "lost": receipt.lost,
        "pull": [share.as_json() for share in shares],
        "people": listed,
        "settings": settings().of_tablets,
        "policy": {"version": current_app.extensions["limits"].version},
        **_limits(push, shares),
        "server_key": _keyring().current().public(),
        "revoked": tablet.is_revoked,
    }


def _limits(push: Push, shares: list[Pulled]) -> dict[str, Any]:
    """Return the limits of the records a tablet may see, if it asks for any."""
    if push.limits is None:
        return {}
    seen = [share.record for share in shares if not share.is_closed]
    return {"limits": pinned_limits.hand_out(get_db(), seen, push.limits).as_json()}


def _shares(tablet: Tablet, push: Push, receipt: Receipt) -> list[Pulled]:
    db = get_db()
    person = granted_person(tablet)

    def may_open(record: str) -> bool:
        return person is not None or tablet_logs.has_written_in(db, tablet.id, record)

    from_start = push.pull_all or receipt.went_back
    shares = pull(db, push.open, may_open, from_start, receipt.head.position)
    _note_access(tablet, person, push, shares)
    return shares


def _note_access(
    tablet: Tablet, person: Person | None, push: Push, shares: list[Pulled]
) -> None:
    """Note who was given a record from its start: once, not at every exchange."""
    begun = {one.record for one in push.open if one.since == 0}
    given = [s.record for s in shares if s.entries and s.record in begun]
    if not given:
        return
    with writing(get_db()):
        for record in given:
            access_log.note(
                get_db(),
                "record:pull",
                person=person.id if person else None,
                tablet=tablet.id,
                record=record,
            )


def _keyring() -> Keyring:
    keyring: Keyring = current_app.extensions["keyring"]
    return keyring


def _json(reply: dict[str, Any]) -> Response:
    text = msgspec.json.encode(reply)
    return current_app.response_class(text, mimetype="application/json")
