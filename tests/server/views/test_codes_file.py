"""The coder's file of a whole record, read back by a reader that is not ours.

Source: coding rules, section 5: 43 columns, what each holds, RFC 4180, text kept as
text, no formula, a digest of each row; the standard library's csv module reads it.
"""

from __future__ import annotations

import csv
import hashlib
import io
import re

import pytest

from tests.support.cast import SIGNER
from tests.support.sent_cases import sends_case
from tests.support.signing import signs
from webapp.app import create_app
from webapp.settings import load

CPT_ON = """
[cpt_enabled]
by = "R. Wend-Example"
role = "administrator"
on = "2031-01-02"
licence_reference = "test only"
"""
UUID = r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"
TIME = r"\d{4}-\d\d-\d\dT\d\d:\d\d[+-]\d\d:\d\d"
ANY = r"(?s).*"
PERSON = {"person": None, "name": "E. Tarn-Example", "role": "operator"}


def chicago(utc: str) -> dict:
    at = {"utc": f"2026-05-14T{utc}:00.000Z", "zone": "America/Chicago"}
    return {**at, "offset_min": -300, "certainty": "exact", "clock": "wall"}


# After the dressing; the procedure of this case runs from 10:35 to 10:51 in Chicago.
CRITICAL_CARE = {
    "person": PERSON,
    "start": chicago("15:55"),
    "stop": chicago("16:45"),
    "organ": "circulation",
    "done": "as told",
    "excludes_procedures": "yes",
}
# Written from the table of the file's description, column by column, in its order.
COLUMNS = {
    "schema": r"wiremark-codes/1",
    "export_id": r"E\d{4}",
    "record_id": UUID,
    "note_version": r"[1-9]\d*",
    "note_sha256": r"[0-9a-f]{64}",
    "note_state": r"signed|addended|withdrawn",
    "mrn": ANY,
    "encounter": ANY,
    "family": ANY,
    "given": ANY,
    "birth_date": r"(\d{4}-\d\d-\d\d)?",
    "sex": r"male|female|other|unknown|",
    "service_date": r"\d{4}-\d\d-\d\d",
    "start_local": TIME,
    "stop_local": TIME,
    "time_certainty": r"exact|about|day",
    "patient_status": r"[a-z_]*",
    "inpatient_order_at": rf"({TIME})?",
    "pos": r"(\d\d)?",
    "operator_npi": r"[12]\d{9}",
    "supervisor_npi": r"([12]\d{9})?",
    "facility": r"EHH",
    "line": r"[1-9]\d*",
    "view": r"professional|inpatient|outpatient",
    "code_system": r"ICD-10-CM|ICD-10-PCS|CPT|HCPCS",
    "code_edition": r"FY2026-Apr|FY2022|CPT-2026",
    "code": r"[A-Z]\d[0-9A-Z](\.[0-9A-Z]+)?|\d{5}|[0-9A-Z]{7}|",
    "own_words": r"(?s).{1,120}",
    "modifiers": r"",
    "units": r"\d*",
    "dx_pointers": r"(\d+(;\d+){0,3})?",
    "state": r"candidate|missing|not_offered",
    "missing": r"([a-z][a-z0-9_./-]*(;[a-z][a-z0-9_./-]*)*)?",
    "evidence": rf"({UUID}(;{UUID})*)?",
    "rule": r"[a-z]{2}-[a-z0-9-]+",
    "rule_edition": r"2026\.1",
    "bundling_check": r"not_checked",
    "decided_by": r"",
    "decided_at": r"",
    "reason": ANY,
    "open_questions": r"\d+",
    "edition_confirmed": r"yes|no",
    "row_sha256": r"[0-9a-f]{64}",
}


@pytest.fixture
def record(tablet, signer):
    """A whole signed record: a hostile name, another line, critical care, a report."""
    made = sends_case(tablet, "demo/1-clean-emergency")
    tablet.sets(made, "patient.family_name", '=HYPERLINK("x"),"Ø\r\n2"')
    tablet.sets(made, "patient.record_number", "00041207")
    tablet.adds(made, "approach.other_line", {"kind": "central_venous"})
    tablet.adds(made, "finish.separate_report", {"what": "film"})
    tablet.adds(made, "finish.critical_care", CRITICAL_CARE)
    tablet.syncs()
    signs(signer, made)
    return made


@pytest.fixture
def raw(site, cast, record):
    """The file's bytes from a site that shows claim numbers."""
    file = site.home / "wiremark.toml"
    file.write_text(file.read_text(encoding="utf-8") + CPT_ON, encoding="utf-8")
    enabled = create_app(load(site.home)).test_client()
    cast.coder.signs_in()
    with (
        cast.coder.client.session_transaction() as known,
        enabled.session_transaction() as session,
    ):
        session.update(known)
    return enabled.get(f"/records/{record}/codes.csv").data


def rows_of(raw: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(raw.decode(), newline=""), strict=True))


def lines_of(raw: bytes) -> list[str]:
    """Return each record's text as written, cut at line ends outside quotes."""
    return re.findall(r'((?:[^"\r\n]|"(?:[^"]|"")*")*)\r\n', raw.decode())


def test_every_cell_is_what_its_column_holds(raw):
    rows = rows_of(raw)
    assert len(rows) > 15
    for row in rows:
        assert list(row) == list(COLUMNS)
        for column, pattern in COLUMNS.items():
            assert re.fullmatch(pattern, row[column]), (row["rule"], column)


def test_each_row_ends_as_the_standard_says_and_has_43_cells(raw):
    assert not raw.startswith(b"\xef\xbb\xbf")
    written = lines_of(raw)
    assert "".join(f"{line}\r\n" for line in written).encode() == raw
    for line in written:
        (cells,) = (
            csv.reader([line], strict=True)
            if "\n" not in line
            else [next(csv.reader(io.StringIO(line, newline="")))]
        )
        assert len(cells) == 43


def test_each_digest_is_that_of_the_row_as_written(raw):
    for line, row in zip(lines_of(raw)[1:], rows_of(raw), strict=True):
        written, _, digest = line.rpartition(",")
        assert digest == row["row_sha256"]
        assert hashlib.sha256(written.encode()).hexdigest() == digest


def test_text_stays_text_and_no_cell_begins_as_a_formula(raw):
    for row in rows_of(raw):
        assert row["family"] == '\'=HYPERLINK("x"),"Ø\r\n2"'
        assert row["mrn"] == "00041207"
        starts = {cell[:1] for cell in row.values()}
        assert not starts & set("=+-@\t\r")


def test_each_view_holds_the_systems_of_its_claim(raw):
    found: dict[str, set[str]] = {}
    for row in rows_of(raw):
        found.setdefault(row["view"], set()).add(row["code_system"])
    assert found == {
        "professional": {"ICD-10-CM", "CPT"},
        "inpatient": {"ICD-10-CM", "ICD-10-PCS"},
        "outpatient": {"ICD-10-CM", "CPT"},
    }


def test_lines_are_numbered_through_and_pointers_point_at_diagnoses(raw):
    rows = rows_of(raw)
    assert [int(row["line"]) for row in rows] == list(range(1, len(rows) + 1))
    by_line = {row["line"]: row for row in rows}
    for row in rows:
        for line in filter(None, row["dx_pointers"].split(";")):
            pointed = by_line[line]
            assert (pointed["code_system"], pointed["view"]) == (
                "ICD-10-CM",
                row["view"],
            )
            assert pointed["state"] == "candidate"


def test_what_stands_beside_a_code_is_no_line(raw):
    rows = rows_of(raw)
    assert not [row for row in rows if row["rule"].startswith(("md-", "pos-"))]
    assert {row["pos"] for row in rows} == {"23"}
    assert {row["operator_npi"] for row in rows} == {SIGNER.npi}


def test_a_modifier_that_is_asked_about_stands_as_an_open_question(raw):
    rows = rows_of(raw)
    critical = [row for row in rows if row["rule"] == "em-critical"]
    # Ten minutes before, fifty after: the same person's statement is not yet theirs.
    assert [row["state"] for row in critical if row["state"] != "not_offered"]
    asked = [r["open_questions"] for r in critical if r["state"] != "not_offered"]
    # Its own, and whether a modifier is used beside the procedure of that day.
    assert all(int(number) >= 2 for number in asked)
    assert {row["modifiers"] for row in rows} == {""}


def test_no_row_says_what_a_code_is_worth(raw):
    head = lines_of(raw)[0]
    assert not re.search(r"charge|amount|price|currency|total|drg|weight", head)


def test_the_eight_published_cases_reach_the_coder_in_one_file(cast, tablet, signer):
    names = [f"CR-0{number}" for number in range(1, 9)]
    records = [sends_case(tablet, f"published/{name}") for name in names]
    for one in records:
        signs(signer, one)
    cast.coder.signs_in()
    named = "&".join(f"record={one}" for one in records)
    rows = rows_of(cast.coder.opens(f"/coding/codes.csv?{named}").data)
    assert {row["record_id"] for row in rows} == set(records)
    assert len({(row["record_id"], row["line"]) for row in rows}) == len(rows)
    # No case says when: no edition is settled, and no claim number is enabled here.
    assert {row["edition_confirmed"] for row in rows} == {"no"}
    claimed = [row for row in rows if row["code_system"] == "CPT"]
    assert {(row["code"], row["state"]) for row in claimed} == {("", "not_offered")}
