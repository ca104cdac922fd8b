"""Add to a record after signing, withdraw it, and open one that was withdrawn."""

from __future__ import annotations

import hmac
from datetime import datetime
from zoneinfo import ZoneInfo

from flask import (
    Blueprint,
    Response,
    redirect,
    render_template,
    request,
    url_for,
)
from flask_wtf import FlaskForm
from werkzeug.wrappers import Response as AnyResponse

from webapp.app_db import get_db, settings
from webapp.catalogue.typed import trim
from webapp.errors import NotFound
from webapp.forms import added_form
from webapp.people import access_log
from webapp.record.added_papers import papers
from webapp.record.addenda import (
    KINDS,
    WITHDRAWAL,
    LateLine,
    is_withdrawn,
    late_lines,
    withdrawal,
)
from webapp.record.framing import MOST_ENTRY_BYTES
from webapp.record.open_record import OpenRecord, open_record
from webapp.record.records import one_listed
from webapp.record.signed import Signed, signed
from webapp.say import say, say_apart
from webapp.views.added_paper import FIELD, Added, add, digest_of, kind_words
from webapp.views.desk_auth import current_person, requires, verify
from webapp.views.opening import NeedsReason, remember
from webapp.views.paper import ChangedMeanwhile, stored_note
from webapp.views.review import (
    READERS,
    WRITERS,
    clock,
    readable_record,
    writable_record,
)

bp = Blueprint("added", __name__)
SAID = ("text", "because")
WHEN = "happened_at"
# Beside its words an addendum says who, when and what it takes up.
LONGEST_WORDS_BYTES = MOST_ENTRY_BYTES // 2
MOST_AT_ONCE = 500


@bp.route("/records/<record>/added", methods=["GET", "POST"])
@requires(*WRITERS)
def add_to(record: str) -> str | AnyResponse | tuple[str, int]:
    """Show what may be added after signing; add it when it is what was read."""
    found = writable_record(record)
    then = signed(found)
    late = late_lines(then.case, found)[:MOST_AT_ONCE] if then else []
    form = added_form(FIELD, (WHEN,), today=_today(), zone=settings().zone)
    if request.method != "POST" or not form.validate_on_submit():
        return _page(found, then, late, form)
    chosen = tuple(
        line for line in late if line.entry.header.id in request.form.getlist("take_up")
    )
    if not _is_as_read(record, late):
        problem = say("added.changed", n=len(late))
        return _page(found, then, late, form, problem), 409
    problem = _problem(found, then, chosen)
    if problem:
        return _page(found, then, late, form, problem), 400
    said = {name: _typed(name) for name in SAID if _typed(name)}
    if form[WHEN].data is not None:
        said[WHEN] = form[WHEN].data
    added = Added(_typed("kind"), said, chosen)
    try:
        add(found, then, stored_note(get_db(), record), added, current_person())
    except ChangedMeanwhile:
        problem = say("added.changed", n=len(late))
        return _page(writable_record(record), then, late, form, problem), 409
    return redirect(url_for("review.record", record=record))


@bp.get("/records/<record>/added/<number>.pdf")
@requires(*READERS, "coder")
def pdf(record: str, number: str) -> AnyResponse:
    """Hand out the stored bytes of one paper."""
    readable_record(record)
    paper = next((p for p in papers(get_db(), record) if str(p.number) == number), None)
    if paper is None:
        raise NotFound
    access_log.record_access(get_db(), current_person().id, "note", record)
    answer = Response(paper.pdf, mimetype="application/pdf")
    name = f"wiremark-{record[:8]}-added-{number}.pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


@bp.route("/records/<record>/withdrawn", methods=["GET", "POST"])
@requires(*READERS, "coder")
def reason(record: str) -> str | AnyResponse | tuple[str, int]:
    """Ask why a withdrawn record is opened; open it for this session."""
    found = open_record(get_db(), record)
    if found is None:
        raise NotFound
    if not is_withdrawn(found.case):
        return redirect(url_for("review.record", record=record))
    if request.method != "POST":
        return _reason_page(found)
    because = request.form.get("because", "").strip()
    if not because or len(because.encode()) > LONGEST_WORDS_BYTES:
        return _reason_page(found, say("added.open_because_missing")), 400
    remember(record)
    access_log.note(
        get_db(),
        "record:open_withdrawn",
        person=current_person().id,
        record=record,
        detail=because,
    )
    wanted = "coding.one" if "coder" in current_person().roles else "review.record"
    return redirect(url_for(wanted, record=record))


@bp.app_errorhandler(NeedsReason)
def _ask_reason(needed: NeedsReason) -> AnyResponse:
    return redirect(url_for("added.reason", record=needed.record))


def _reason_page(found: OpenRecord, problem: str = "") -> str:
    """Return the page that asks why, without the name of the record's patient."""
    row = withdrawal(found.case)
    by = row.get("by") if row else None
    name = str(by.get("name", "")) if isinstance(by, dict) else ""
    when = clock(row.meta["at"]["utc"]) if row else ""
    return render_template(
        "review/withdrawn.html",
        words=say_apart(
            "added.open_words", name=name or say("review.nobody"), when=when
        ),
        because=row.words("because") if row else "",
        problem=problem,
    )


def _is_as_read(record: str, late: list[LateLine]) -> bool:
    read = request.form.get("digest", "").encode()
    return hmac.compare_digest(read, digest_of(record, tuple(late)).encode())


def _problem(found: OpenRecord, then: Signed | None, late: tuple[LateLine, ...]) -> str:
    """Return why nothing is added, or ""; the password is asked last."""
    kind, text = _typed("kind"), _typed("text")
    if kind not in KINDS:
        return say("added.kind_missing")
    if is_withdrawn(found.case):
        return say("added.withdrawn")
    if then is None and kind != WITHDRAWAL:
        return say("added.not_signed")
    if kind == WITHDRAWAL and not _typed("because"):
        return say("added.withdrawal_because")
    if kind != WITHDRAWAL and not (text or late):
        return say("added.nothing")
    said = text + _typed("because")
    if len(said.encode()) > LONGEST_WORDS_BYTES:
        return say("review.too_long", kib=LONGEST_WORDS_BYTES // 1024)
    if not verify(get_db(), current_person().id, request.form.get("password", "")):
        return say("added.wrong_password")
    return ""


def _page(
    found: OpenRecord,
    then: Signed | None,
    late: list[LateLine],
    form: FlaskForm,
    problem: str = "",
) -> str:
    return render_template(
        "review/added.html",
        found=found,
        row=one_listed(get_db(), found.id),
        form=form,
        late=late,
        digest=digest_of(found.id, tuple(late)),
        kinds=[(kind, kind_words(kind), say(f"added.help.{kind}")) for kind in KINDS],
        is_signed=then is not None,
        kind=_typed("kind"),
        said={name: request.form.get(name, "") for name in SAID},
        taken=request.form.getlist("take_up"),
        statement=say("added.statement"),
        problem=problem,
    )


def _typed(name: str) -> str:
    """Return what was typed or chosen, without blanks at its ends."""
    return trim(request.form.get(name, ""))


def _today() -> str:
    return datetime.now(ZoneInfo(settings().zone)).date().isoformat()
