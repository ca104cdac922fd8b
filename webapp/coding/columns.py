"""The 43 columns of the coder's file: order, type, and what each may hold."""

from __future__ import annotations

import re
from dataclasses import dataclass

from webapp.people.npi import is_npi

SCHEMA = "wiremark-codes/1"
OWN_WORDS_MAX = 120

_UUID = r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}"
_DATE = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_ISO = rf"({_DATE}T[0-9]{{2}}:[0-9]{{2}}(:[0-9]{{2}})?[+-][0-9]{{2}}:[0-9]{{2}})?"
_HEX64 = r"[0-9a-f]{64}"
_WORD = r"[a-z_]*"
_WHOLE = r"[0-9]+"
_PATH = r"[a-z][a-z0-9_./-]*"


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `pattern`: what a cell must match whole; "" for free text."""

    name: str
    type: str
    pattern: str = ""

    @property
    def is_free_text(self) -> bool:
        """Return whether people's own words stand here."""
        return not self.pattern

    def refuses(self, cell: str) -> bool:
        """Return whether a cell may not stand in this column."""
        if self.is_free_text:
            return False
        if self.name.endswith("_npi"):
            return bool(cell) and not is_npi(cell)
        return re.fullmatch(self.pattern, cell) is None


COLUMNS = (
    Column("schema", f"text {SCHEMA}", re.escape(SCHEMA)),
    Column("export_id", "text", r"E[0-9]{4,}"),
    Column("record_id", "UUID", _UUID),
    Column("note_version", "int >= 1", r"[1-9][0-9]*"),
    Column("note_sha256", "hex64", _HEX64),
    Column("note_state", "signed, addended, withdrawn", "signed|addended|withdrawn"),
    Column("mrn", "text"),
    Column("encounter", "text"),
    Column("family", "text"),
    Column("given", "text"),
    Column("birth_date", "date or empty", rf"({_DATE})?"),
    Column("sex", "FHIR gender code", "male|female|other|unknown|"),
    Column("service_date", "date", rf"({_DATE})?"),
    Column("start_local", "ISO 8601 with offset", _ISO),
    Column("stop_local", "ISO 8601 with offset", _ISO),
    Column("time_certainty", "exact, about, day", "exact|about|day|"),
    Column("patient_status", "text", _WORD),
    Column("inpatient_order_at", "ISO or empty", _ISO),
    Column("pos", "text(2) or empty", r"([0-9]{2})?"),
    Column("operator_npi", "text(10), Luhn", r"([12][0-9]{9})?"),
    Column("supervisor_npi", "text(10) or empty", r"([12][0-9]{9})?"),
    Column("facility", "text, site code", r"[A-Za-z0-9._]{0,40}"),
    Column("line", "int >= 1, stable per record", r"[1-9][0-9]*"),
    Column(
        "view",
        "professional, inpatient, outpatient",
        "professional|inpatient|outpatient",
    ),
    Column(
        "code_system",
        "ICD-10-CM, ICD-10-PCS, CPT, HCPCS",
        "ICD-10-CM|ICD-10-PCS|CPT|HCPCS",
    ),
    Column("code_edition", "text, FY2026-Apr", r"[A-Za-z0-9.]+(-[A-Za-z0-9.]+)*"),
    Column("code", "text; empty when switched off", r"[A-Z0-9]*(\.[A-Z0-9]+)?"),
    Column("own_words", f"text <= {OWN_WORDS_MAX}, ours"),
    Column(
        "modifiers",
        "text, ; list, <= 4, coder's",
        r"([A-Z0-9]{2}(;[A-Z0-9]{2}){0,3})?",
    ),
    Column("units", "int or empty", r"[0-9]*"),
    Column("dx_pointers", "text, ; list of line", rf"({_WHOLE}(;{_WHOLE})*)?"),
    Column(
        "state",
        "candidate, missing, not_offered, taken, changed, removed",
        "candidate|missing|not_offered|taken|changed|removed",
    ),
    Column("missing", "text, ; field paths", rf"({_PATH}(;{_PATH})*)?"),
    Column("evidence", "text, ; entry ids", rf"({_UUID}(;{_UUID})*)?"),
    Column("rule", "text", r"[a-z0-9]+(-[a-z0-9]+)*"),
    Column("rule_edition", "text", r"[0-9]+(\.[0-9]+)*"),
    Column(
        "bundling_check",
        "not_checked or edition;who;date",
        rf"not_checked|[A-Za-z0-9][A-Za-z0-9.-]*;[^;\r\n]+;{_DATE}",
    ),
    Column("decided_by", "text"),
    Column("decided_at", "ISO with offset", _ISO),
    Column("reason", "text"),
    Column("open_questions", "int >= 0", _WHOLE),
    Column("edition_confirmed", "yes, no", "yes|no"),
    Column("row_sha256", "hex64 of columns 1-42 as written, without CRLF", _HEX64),
)
NAMES = tuple(column.name for column in COLUMNS)
