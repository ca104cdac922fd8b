"""Answer at the desk: a field on its own page, a key beside it, a row struck."""

from __future__ import annotations

import json
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from webapp.app_db import get_db
from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET
from webapp.catalogue.model import Field
from webapp.errors import BadRequest, NotFound, Problem, TooLarge
from webapp.forms import answer_form
from webapp.record import desk
from webapp.record.case import Answer
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.record.open_record import OpenRecord
from webapp.record.records import one_listed
from webapp.say import say
from webapp.views.desk_auth import requires
from webapp.views.review import WRITERS, writable_record, writer, zone

bp = Blueprint("answering", __name__)


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
            try:
                _keep_answer(found, field, current, value)
            except desk.TooLong:
                # The page comes back with all that was typed.
                form.answer.errors = [too_long()]
                return _answer_page(found, form, field, path), 413
        return redirect(back_to(record, path))
    return _answer_page(found, form, field, path)


def _keep_answer(found: OpenRecord, field: Field, current: Answer, value: Any) -> None:
    """Keep an answer or a row; with its reason where it takes the place of others."""
    db, path = get_db(), current.path
    because = request.form.get("correction_because", "").strip()
    if field.kind == "group" and "absent" not in value:
        desk.write(db, found.id, writer(), path, "add", value, [])
    elif because and current.entries:
        seen = list(current.entries)
        desk.correct(db, found.id, writer(), path, value, seen, because)
    else:
        desk.write(db, found.id, writer(), path, "set", value, list(current.entries))


def _answer_page(found: OpenRecord, form: Any, field: Field, path: str) -> str:
    current_answer = found.case.answer(path)
    return render_template(
        "review/answer.html",
        found=found,
        row=one_listed(get_db(), found.id),
        form=form,
        field=field,
        path=path,
        current=current_answer,
        people=log_people(found),
        is_correction=bool(current_answer.heads) and field.kind != "group",
        because=request.form.get("correction_because", ""),
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
    return redirect(back_to(record, path))


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
    return redirect(back_to(record, path))


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


def writable_field(path: str) -> Field:
    """Return the field of a path that answers may be given to. Raises BadRequest."""
    field = CATALOGUE.field(path)
    if field is None or path in NEVER_FROM_A_TABLET or "*" in path:
        raise BadRequest(say("review.no_such_field"))
    return field


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


def back_to(record: str, path: str) -> str:
    """Return the address of a record, at the line of a field."""
    return url_for("review.record", record=record, _anchor=path)


def _today() -> date:
    return datetime.now(ZoneInfo(zone())).date()
