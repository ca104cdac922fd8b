"""Sign a record, and hand out its note."""

from __future__ import annotations

import hmac
from dataclasses import dataclass

from flask import (
    Blueprint,
    Response,
    current_app,
    redirect,
    render_template,
    request,
    url_for,
)
from flask.blueprints import BlueprintSetupState
from werkzeug.wrappers import Response as AnyResponse

from webapp.app_db import get_db, settings
from webapp.catalogue import CATALOGUE
from webapp.catalogue.words import words
from webapp.errors import Conflict, NotFound
from webapp.people import access_log
from webapp.record.addenda import about_ids, is_withdrawn
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.record.open_record import OpenRecord
from webapp.record.questions import open_questions
from webapp.record.records import one_listed
from webapp.record.signing import Covered, covered, undelivered
from webapp.say import say
from webapp.views import paper
from webapp.views.attesting import Reasons, earlier, has_signed, is_late
from webapp.views.desk_auth import current_person, requires, verify
from webapp.views.review import (
    READERS,
    WRITERS,
    readable_record,
    remark_words,
    remarks_of,
    writable_record,
)
from webapp.views.turns import MOST_NOTES_WAITING, Turns

bp = Blueprint("notes", __name__)
NO_REASONS = Reasons()
# Beside the reason an attestation says who, when and up to where.
LONGEST_REASON_BYTES = MOST_ENTRY_BYTES - 8 * 1024


@bp.record_once
def _open_queue(state: BlueprintSetupState) -> None:
    state.app.extensions["note_turns"] = Turns(MOST_NOTES_WAITING)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the signing form sent."""

    digest: str
    upto: int
    agree: bool
    password: str
    why: Reasons


def _count(text: str) -> int:
    """Read a number that SQLite can hold. Raises ValueError: it cannot."""
    if not (text.isascii() and text.isdigit() and len(text) <= 18):
        raise ValueError(text)
    return int(text)


@bp.get("/records/<record>/note.pdf")
@requires(*READERS, "coder")
def pdf(record: str) -> Response:
    """Hand out the signed note's stored bytes, or the unsigned note of this moment."""
    version = request.args.get("version", type=_count)
    signed = paper.stored_note(get_db(), record, version)
    if signed is None and request.args.get("version"):
        raise NotFound
    if signed is None:
        with current_app.extensions["note_turns"].turn():
            data = paper.draft(readable_record(record))
    else:
        readable_record(record)
        data = signed.pdf
    kind = f"note-{signed.version}" if signed else "note-not-signed"
    access_log.record_access(get_db(), current_person().id, "note", record)
    answer = Response(data, mimetype="application/pdf")
    name = f"wiremark-{record[:8]}-{kind}.pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


@bp.route("/records/<record>/sign", methods=["GET", "POST"])
@requires(*WRITERS)
def sign(record: str) -> str | AnyResponse | tuple[str, int]:
    """Show what would be signed; sign it when it is still what was read."""
    found = writable_record(record)
    if is_withdrawn(found.case):
        raise Conflict(say("added.withdrawn"))
    now = covered(found.logged, about_ids(found.case))
    if request.method != "POST":
        return _page(found, now)
    asked = _asked()
    digest = paper.digest_of(found.id, now)
    if not hmac.compare_digest(asked.digest.encode(), digest.encode()):
        return _page(found, now, changed=_since(found, asked.upto)), 409
    problem = _problem(found, asked)
    if problem:
        return _page(found, now, problem=problem, why=asked.why), 400
    # A second click, or a reply that was lost: the signature is there already.
    signed = redirect(url_for("review.record", record=record))
    if has_signed(found, digest, current_person()):
        return signed
    try:
        paper.sign(found, now, current_person(), asked.why)
    except paper.ChangedMeanwhile:
        later = writable_record(record)
        if has_signed(later, digest, current_person()):
            return signed
        fresh = covered(later.logged, about_ids(later.case))
        return _page(later, fresh, changed=_since(later, now.upto)), 409
    return signed


def _asked() -> _Asked:
    form = request.form
    return _Asked(
        form.get("digest", ""),
        form.get("upto", 0, type=_count),
        form.get("agree") == "yes",
        form.get("password", ""),
        Reasons(
            form.get("undelivered_reason", "").strip(),
            form.get("late_because", "").strip(),
        ),
    )


def _problem(found: OpenRecord, asked: _Asked) -> str:
    """Return why nothing is signed, or ""; the password is asked last."""
    if not asked.agree:
        return say("sign.disagree")
    said = asked.why.undelivered + asked.why.late
    if len(said.encode()) > LONGEST_REASON_BYTES:
        return say("review.too_long", kib=MOST_ENTRY_BYTES // 1024)
    held = any(u.missing for u in undelivered(get_db(), found.id))
    if held and not asked.why.undelivered:
        return say("sign.reason_missing")
    if is_late(found) and not asked.why.late:
        return say("sign.late_missing")
    if not verify(get_db(), current_person().id, asked.password):
        return say("sign.wrong_password")
    return ""


def _page(
    found: OpenRecord,
    now: Covered,
    changed: list[tuple[str, str]] | None = None,
    problem: str = "",
    why: Reasons = NO_REASONS,
) -> str:
    waiting = undelivered(get_db(), found.id)
    return render_template(
        "review/sign.html",
        found=found,
        row=one_listed(get_db(), found.id),
        questions=open_questions(found.case),
        remarks=[remark for remark in remarks_of(found) if remark.is_open],
        **remark_words(found),
        undelivered=waiting,
        owed=any(u.missing for u in waiting),
        digest=paper.digest_of(found.id, now),
        upto=now.upto,
        count=len(now.ids),
        statement=say("sign.statement"),
        changed=changed or [],
        problem=problem,
        why=why,
        late_h=settings().sign_within_h if is_late(found) else 0,
        earlier=earlier(found, paper.digest_of(found.id, now), current_person()),
    )


def _since(found: OpenRecord, upto: int) -> list[tuple[str, str]]:
    """Return what was said after the page was read, as label and words."""
    told: list[tuple[str, str]] = []
    for entry in found.counted:
        meta = found.case.fold["entries"].get(entry.header.id)
        if entry.position <= upto or meta is None:
            continue
        field = CATALOGUE.field(meta["path"])
        label = field.label if field else meta["path"]
        heads = found.case.fold["values"].get(meta["path"], [])
        mine = [h["value"] for h in heads if entry.header.id in h["entries"]]
        text = words(field, mine[0]) if field and mine else say("sign.row_changed")
        told.append((label, text))
    return told
