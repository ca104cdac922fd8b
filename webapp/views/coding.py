"""The coding desk: records to code, one note with codes in its margin, the file."""

from __future__ import annotations

from flask import Blueprint, Response, render_template, request

from webapp.app_db import get_db
from webapp.coding.csv_export import BOM, columns_csv
from webapp.coding.margin import going_out, margin_of
from webapp.coding.questions import load_questions
from webapp.errors import BadRequest, NotFound
from webapp.people import access_log
from webapp.record.exports import signed_note
from webapp.record.open_record import OpenRecord, open_record
from webapp.say import say
from webapp.views.code_facts import site_judge
from webapp.views.coding_case import coded
from webapp.views.coding_export import hand_out
from webapp.views.coding_list import listed_for_coding
from webapp.views.coding_page import heading, whys
from webapp.views.desk_auth import current_person, requires
from webapp.views.opening import guard_withdrawn

bp = Blueprint("coding", __name__)

CODERS = ("coder",)
FIRST_VIEW = "professional"


@bp.get("/coding")
@requires(*CODERS)
def desk() -> str:
    """Show every record, the oldest ready one first."""
    return render_template("coding/list.html", rows=listed_for_coding(get_db()))


@bp.get("/coding/<record>")
@requires(*CODERS)
def one(record: str) -> str:
    """Show one note with the codes of one view in its margin."""
    found = readable_record(record)
    guard_withdrawn(found)
    judge, read = site_judge(), coded(found)
    fixed, sheet = read.signed, read.sheet
    asked = request.args.get("view", "")
    view = asked if asked in sheet.views else FIRST_VIEW
    margin = margin_of(sheet, view)
    access_log.record_access(get_db(), current_person().id, "codes", record)
    return render_template(
        "coding/record.html",
        found=found,
        signed=fixed,
        note=signed_note(get_db(), record),
        sheet=sheet,
        view=view,
        margin=margin,
        out=going_out(margin),
        heading=heading(found, sheet, fixed),
        whys=whys(margin, sheet, judge, load_questions()),
        rows=listed_for_coding(get_db()),
        cpt=judge.site.switches,
    )


@bp.get("/records/<record>/codes.csv")
@requires(*CODERS)
def codes(record: str) -> Response:
    """Hand out one record's lines."""
    return _file([readable_record(record)], f"wiremark-codes-{record[-12:]}")


@bp.get("/coding/codes.csv")
@requires(*CODERS)
def codes_of_several() -> Response:
    """Hand out the lines of the records named in the address."""
    named = list(dict.fromkeys(request.args.getlist("record")))
    if not named:
        raise BadRequest(say("coding.none_chosen"))
    return _file([readable_record(record) for record in named], "wiremark-codes")


@bp.get("/coding/columns.csv")
@requires(*CODERS)
def columns() -> Response:
    """Hand out what each column of the file holds."""
    return _attached(columns_csv(), "columns.csv")


def readable_record(record: str) -> OpenRecord:
    """Return a record a coder may read. Raises NotFound."""
    found = open_record(get_db(), record)
    if found is None:
        raise NotFound
    return found


def _file(found: list[OpenRecord], name: str) -> Response:
    made = hand_out(get_db(), found, current_person())
    # Spreadsheets take a file without the mark for another alphabet's.
    mark = BOM if request.args.get("bom") == "1" else b""
    return _attached(mark + made.data, f"{name}-{made.export_id}.csv")


def _attached(data: bytes, name: str) -> Response:
    answer = Response(data, content_type="text/csv; charset=utf-8; header=present")
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
