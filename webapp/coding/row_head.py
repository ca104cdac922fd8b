"""What stands at the head of each row: patient, times, status, people, note."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from webapp.coding.columns import SCHEMA
from webapp.coding.dates import iso_minutes
from webapp.coding.sheet import Sheet
from webapp.coding.site import SiteCoding
from webapp.coding.stay import STATUS, order_at
from webapp.people.npi import is_npi
from webapp.record.case import Answer, Case


@dataclass(frozen=True, slots=True)
class NoteFacts:
    """What is known of the signed note itself.

    `state`: signed, addended or withdrawn; `signers`: account id by the meaning of
    the signature; `npis`: by account id.
    """

    record: str
    version: int
    sha256: str
    state: str
    signers: Mapping[str, str]
    npis: Mapping[str, str]


def head_of(
    export_id: str, sheet: Sheet, note: NoteFacts, site: SiteCoding
) -> dict[str, str]:
    """Return columns 1 to 22; a text with two answers holds both."""
    case, span, zone = sheet.case, sheet.span, site.zone
    status = case.answer(STATUS)
    return {
        "schema": SCHEMA,
        "export_id": export_id,
        "record_id": note.record,
        "note_version": str(note.version),
        "note_sha256": note.sha256,
        "note_state": note.state,
        "mrn": _said(case, "patient.record_number"),
        "encounter": _said(case, "patient.encounter_number"),
        "family": _said(case, "patient.family_name"),
        "given": _said(case, "patient.given_name"),
        "birth_date": _birth_date(case.answer("patient.birth_date")),
        "sex": _code(case.answer("patient.sex")),
        "service_date": span.day.isoformat() if span.day else "",
        "start_local": iso_minutes(span.start),
        "stop_local": iso_minutes(span.stop),
        "time_certainty": span.certainty,
        "patient_status": _code(status),
        "inpatient_order_at": iso_minutes(order_at(case, zone)),
        "pos": sheet.place_of_service,
        "operator_npi": _npi(case, note, "operator"),
        "supervisor_npi": _npi(case, note, "supervisor"),
        "facility": site.facility,
    }


def _said(case: Case, path: str) -> str:
    """Return what was said, both where two were; nothing for an absence."""
    answer = case.answer(path)
    told = [str(v) for v in answer.heads if not isinstance(v, dict)]
    return " or ".join(told)


def _code(answer: Answer) -> str:
    return answer.value if isinstance(answer.value, str) else ""


def _birth_date(answer: Answer) -> str:
    value: Any = answer.value
    is_date = answer.state == "answered" and isinstance(value, dict)
    return str(value.get("date", "")) if is_date else ""


def _npi(case: Case, note: NoteFacts, role: str) -> str:
    """Return the identifier of the person in this role: as recorded, else as signed."""
    for row in case.rows("patient.people"):
        if row.get("role") != role:
            continue
        person = row.get("person") or {}
        known = note.npis.get(str(person.get("person")), "")
        written = row.get("npi")
        if known or (isinstance(written, str) and is_npi(written)):
            return known or str(written)
    return note.npis.get(note.signers.get(role, ""), "")
