"""The desk: find a record, read it top to bottom, answer what is open."""

from __future__ import annotations

import json
from datetime import datetime
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from flask import (
    Blueprint,
    current_app,
    redirect,
    render_template,
    request,
)
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response

from webapp.app_db import get_db, settings
from webapp.catalogue import CATALOGUE
from webapp.catalogue.moments import read_instant
from webapp.clinical.policy import Policy
from webapp.errors import NotFound
from webapp.keep.copies import copied_upto
from webapp.people import access_log
from webapp.record import desk, lost, not_kept
from webapp.record.addenda import added_lines, late_entries
from webapp.record.aside import aside
from webapp.record.entry_lines import entry_lines
from webapp.record.open_record import OpenRecord, open_record
from webapp.record.page import page, said
from webapp.record.records import listed, one_listed
from webapp.record.remark_times import as_at_words
from webapp.record.remarked import Remarked, answer_keys, answer_words, remarked
from webapp.record.signatures import signatures
from webapp.record.signing import undelivered
from webapp.record.timeline import timeline
from webapp.say import say
from webapp.views.desk_auth import current_person, home_of, requires
from webapp.views.opening import guard_withdrawn
from webapp.views.record_limits import began_with
from webapp.views.timeline_drawing import draw

bp = Blueprint("review", __name__)

READERS = ("operator", "supervisor", "nurse", "administrator")
WRITERS = ("operator", "supervisor")
STATES = ("not_signed", "signed", "addended", "withdrawn")
PLACES = (
    ("/records", "review.records", READERS),
    ("/coding", "review.coding_desk", ("coder",)),
    ("/tablets", "review.tablets", ("administrator",)),
    ("/server", "review.server", ("administrator",)),
)


@bp.app_context_processor
def _page_words() -> dict[str, Any]:
    return {"person_here": current_person, "desk_places": _places, "clock": clock}


def _places() -> list[dict[str, str]]:
    """Return the pages this person's roles reach, as links."""
    roles = current_person().roles
    return [
        {"url": url, "label": say(key)}
        for url, key, wanted in PLACES
        if any(role in wanted for role in roles)
    ]


@bp.get("/")
def first_page() -> Response:
    """Send a person to the page their work starts on."""
    return redirect(home_of(current_person()))


@bp.get("/records")
@requires(*READERS)
def records() -> str:
    """Show every record, oldest unsigned first."""
    search = request.args.get("q", "")
    state = request.args.get("state", "")
    rows = listed(get_db(), search, state if state in STATES else "")
    return render_template(
        "review/records.html",
        rows=rows,
        declined=not_kept.counts(get_db()),
        search=search,
        state=state,
        states=STATES,
    )


@bp.get("/records/<record>")
@requires(*READERS)
def record(record: str) -> str:
    """Show one record with its open questions."""
    found = readable_record(record)
    access_log.record_access(get_db(), current_person().id, "record", record)
    line = timeline(found.case)
    db, keyring = get_db(), current_app.extensions["keyring"]
    return render_template(
        "review/record.html",
        aside=aside(db, keyring, record, found.set_aside),
        lost=lost.missing(db, record),
        signatures=signatures(found, copied_upto(settings().home, db)),
        added=added_lines(found.case),
        late_ids={e.header.id for e in late_entries(found)},
        found=found,
        row=one_listed(get_db(), record),
        page=page(found.case, remarks_of(found)),
        limits_version=limits_of(found).version,
        **remark_words(found),
        drawing=draw(line, zone()) if line else None,
        undelivered=undelivered(get_db(), record),
        form=FlaskForm(),
        may_write=_may_write(),
        dumps=_dumps,
    )


@bp.get("/records/<record>/entries")
@requires(*READERS)
def entries(record: str) -> str:
    """Show every entry of a record, or those of one field, in order."""
    found = readable_record(record)
    path = request.args.get("path", "")
    return render_template(
        "review/entries.html",
        found=found,
        row=one_listed(get_db(), record),
        shown=entry_lines(found, path),
        path=path,
        field=CATALOGUE.field,
    )


def limits_of(found: OpenRecord) -> Policy:
    """Return the limits that remarks on a record are computed by."""
    return began_with(found.id)


def remarks_of(found: OpenRecord) -> tuple[Remarked, ...]:
    """Return every remark on a record, heavier first."""
    return remarked(found.case, limits_of(found))


def remark_words(found: OpenRecord) -> dict[str, Any]:
    """Return what the template of remarks reads: answers, and who gave them."""
    return {
        "said_of": partial(said, found.case),
        "answer_words": answer_words,
        "remark_answers": answer_keys(),
        "as_at_words": partial(as_at_words, day=_today()),
    }


def readable_record(record: str) -> OpenRecord:
    """Return a record this person may read. Raises NotFound, NeedsReason."""
    found = open_record(get_db(), record)
    if found is None:
        raise NotFound
    guard_withdrawn(found)
    return found


def writable_record(record: str) -> OpenRecord:
    """Return a record this person may write to. Raises NotFound."""
    return readable_record(record)


def writer() -> desk.Writer:
    """Return the signed-in person as a writer of entries."""
    person = current_person()
    role = next((r for r in person.roles if r in WRITERS), person.roles[0])
    return desk.Writer(person.id, person.name, role, zone())


def zone() -> str:
    """Return the hospital's IANA zone."""
    return settings().zone


def clock(utc: str) -> str:
    """Return a UTC text as day and time at the hospital; unreadable, as it came."""
    at = read_instant(utc)
    if at is None:
        return utc
    local = at.astimezone(ZoneInfo(zone()))
    return f"{local.day} {local:%b %Y %H:%M}"


def _today() -> str:
    """Return today's ISO day at the hospital."""
    return datetime.now(ZoneInfo(zone())).date().isoformat()


def _may_write() -> bool:
    return any(role in WRITERS for role in current_person().roles)


def _dumps(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
