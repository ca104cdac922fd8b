"""The desk: find a record, read it top to bottom, answer what is open."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask import (
    Blueprint,
    current_app,
    redirect,
    render_template,
    request,
    url_for,
)
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response

from webapp.app_db import get_db, settings
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET
from webapp.catalogue.model import Field
from webapp.catalogue.moments import read_instant
from webapp.errors import BadRequest, NotFound, Problem, TooLarge
from webapp.forms import answer_form
from webapp.keep.copies import copied_upto
from webapp.people import access_log
from webapp.record import desk, lost, not_kept
from webapp.record.addenda import added_lines
from webapp.record.aside import aside
from webapp.record.entry_lines import entry_lines
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.record.open_record import OpenRecord, open_record
from webapp.record.page import page
from webapp.record.records import listed, one_listed
from webapp.record.signatures import signatures
from webapp.record.signing import undelivered
from webapp.record.timeline import timeline
from webapp.say import say
from webapp.views.desk_auth import current_person, home_of, requires
from webapp.views.opening import guard_withdrawn
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
        found=found,
        row=one_listed(get_db(), record),
        page=page(found.case),
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


@bp.route("/records/<record>/answer", methods=["GET", "POST"])
@requires(*WRITERS)
def answer(record: str) -> str | Response | tuple[str, int]:
    """Answer or correct one field on a page of its own."""
    found = writable_record(record)
    path = request.values.get("path", "")
    field = writable_field(path)
    current = found.case.answer(path)
    form = answer_form(path, field, today=_today(), zone=zone(), value=current.value)
    if request.method == "POST" and form.validate_on_submit():
        value = form.answer.data
        if value is not None:
            op = "add" if field.kind == "group" and "absent" not in value else "set"
            seen = list(current.entries) if op == "set" else []
            try:
                desk.write(get_db(), record, writer(), path, op, value, seen)
            except desk.TooLong:
                # The page comes back with all that was typed.
                form.answer.errors = [too_long()]
                return _answer_page(found, form, field, path), 413
        return redirect(_back(record, path))
    return _answer_page(found, form, field, path)


def _answer_page(found: OpenRecord, form: Any, field: Field, path: str) -> str:
    return render_template(
        "review/answer.html",
        found=found,
        row=one_listed(get_db(), found.id),
        form=form,
        field=field,
        path=path,
        current=found.case.answer(path),
        people=log_people(found),
    )


@bp.post("/records/<record>/say")
@requires(*WRITERS)
def say_value(record: str) -> Response:
    """Keep the answer of a key beside a field; settles two answers when both seen."""
    found = writable_record(record)
    path = request.form.get("path", "")
    field = writable_field(path)
    value = _value_of(field)
    seen = [i for i in request.form.get("seen", "").split(",") if i]
    known = set(found.case.answer(path).entries)
    _write(record, path, "set", value, [i for i in seen if i in known])
    return redirect(_back(record, path))


@bp.post("/records/<record>/strike")
@requires(*WRITERS)
def strike(record: str) -> Response:
    """Mark a row as entered in error, or keep it after all."""
    found = writable_record(record)
    path = request.form.get("path", "")
    writable_field(path)
    named = request.form.get("entry", "")
    row = next((r for r in found.case.rows(path, struck=True) if r.id == named), None)
    if row is None:
        raise NotFound
    target = row.struck["by"] if row.struck else row.id
    value = {"strikes": target, "reason": request.form.get("reason") or None}
    _write(record, path, "strike", value)
    return redirect(_back(record, path))


def too_long() -> str:
    """Return the word for more text than one entry may carry."""
    return say("review.too_long", kib=MOST_ENTRY_BYTES // 1024)


def _write(
    record: str, path: str, op: str, value: Any, seen: list[str] | None = None
) -> None:
    """Keep a desk entry. Raises TooLarge: naming the field."""
    try:
        desk.write(get_db(), record, writer(), path, op, value, seen)
    except desk.TooLong as error:
        raise TooLarge(too_long(), (Problem(path, "length", too_long()),)) from error


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


def writable_field(path: str) -> Field:
    """Return the field of a path that answers may be given to. Raises BadRequest."""
    field = CATALOGUE.field(path)
    if field is None or path in NEVER_FROM_A_TABLET or "*" in path:
        raise BadRequest(say("review.no_such_field"))
    return field


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


def log_people(found: OpenRecord) -> list[str]:
    """Return the names the record already knows, to be offered when typing one."""
    names = {m["author"].get("name", "") for m in found.case.fold["entries"].values()}
    return sorted(n for n in names if n)


def _value_of(field: Field) -> Any:
    try:
        value = json.loads(request.form.get("value", ""))
    except (ValueError, RecursionError) as error:
        raise BadRequest(say("review.no_such_answer")) from error
    verdict = check(field, value)
    if verdict.state == "illegal" or field.kind == "group":
        problem = Problem(field.name, "illegal", say("review.no_such_answer"))
        raise BadRequest(say("review.no_such_answer"), (problem,))
    return value


def _may_write() -> bool:
    return any(role in WRITERS for role in current_person().roles)


def _back(record: str, path: str) -> str:
    return url_for("review.record", record=record, _anchor=path)


def _today() -> Any:
    return datetime.now(ZoneInfo(zone())).date()


def _dumps(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
