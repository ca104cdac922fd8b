"""Answer a remark at the desk: done as asked, or chosen otherwise, because."""

from __future__ import annotations

from flask import Blueprint, redirect, request
from werkzeug.wrappers import Response

from webapp.app_db import get_db
from webapp.catalogue.kinds import check
from webapp.errors import BadRequest, Problem, TooLarge
from webapp.record import desk
from webapp.record.open_record import OpenRecord
from webapp.record.remarked import ANSWERS
from webapp.say import SAY, say
from webapp.views.answering import back_to, too_long, writable_field
from webapp.views.desk_auth import requires
from webapp.views.review import WRITERS, remarks_of, writable_record, writer

bp = Blueprint("remarks", __name__)


@bp.post("/records/<record>/remark")
@requires(*WRITERS)
def answer(record: str) -> Response:
    """Keep an answer to the remark that was read, on the evidence it had then.

    What came in since makes it another remark, which then stands beside the answer.
    """
    found = writable_record(record)
    code, evidence = request.form.get("code", ""), request.form.get("evidence", "")
    said = request.form.get("answer", "")
    because = request.form.get("because", "").strip()
    if said not in ANSWERS:
        raise BadRequest(say("review.no_such_answer"))
    if not _is_told(found, code, evidence):
        raise BadRequest(say("remarks.gone"))
    value = {"answer": said, "evidence": evidence, "because": because}
    _keep(found, f"remarks.{code}", {name: v for name, v in value.items() if v})
    return redirect(back_to(record, request.form.get("at") or "remarks"))


def _is_told(found: OpenRecord, code: str, evidence: str) -> bool:
    """Tell whether this was a remark on this record: now, or before later entries."""
    if f"clinical.remark.{code}" not in SAY:
        return False
    known = found.case.fold["entries"]
    is_now = any(r.found.name == code for r in remarks_of(found) if not r.evidence)
    ids = evidence.split()
    return all(i in known for i in ids) if ids else is_now


def _keep(found: OpenRecord, path: str, value: dict[str, str]) -> None:
    if check(writable_field(path), value).state == "illegal":
        raise BadRequest(say("review.no_such_answer"))
    try:
        desk.write(get_db(), found.id, writer(), path, "add", value)
    except desk.TooLong as error:
        problem = Problem("because", "length", too_long())
        raise TooLarge(too_long(), (problem,)) from error
