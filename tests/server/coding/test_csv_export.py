"""The coder's file: 43 columns, RFC 4180, nothing a spreadsheet would run."""

from __future__ import annotations

import csv
import hashlib
import io

import pytest

from tests.support.hostile import LINES
from webapp.coding.columns import COLUMNS, NAMES
from webapp.coding.csv_export import (
    CannotExport,
    as_line,
    codes_csv,
    columns_csv,
    row_sha256,
)

# The example row of the file's own description (coding rules, section 5), its
# shortened digests filled out; order and form are checked against it.
EXAMPLE = {
    "schema": "wiremark-codes/1",
    "export_id": "E0007",
    "record_id": "0199aaaa-0000-7000-8000-0000000000a1",
    "note_version": "1",
    "note_sha256": "9f" * 31 + "c2",
    "note_state": "signed",
    "mrn": "00041207",
    "encounter": "V0093311",
    "family": "TESTPERSON",
    "given": "ALMA",
    "birth_date": "1951-02-03",
    "sex": "female",
    "service_date": "2026-05-14",
    "start_local": "2026-05-14T03:12-04:00",
    "stop_local": "2026-05-14T03:51-04:00",
    "time_certainty": "exact",
    "patient_status": "emergency",
    "inpatient_order_at": "",
    "pos": "23",
    "operator_npi": "1234567893",
    "supervisor_npi": "",
    "facility": "HOSP1",
    "line": "1",
    "view": "professional",
    "code_system": "ICD-10-CM",
    "code_edition": "FY2026-Apr",
    "code": "I44.2",
    "own_words": "complete heart block stated by operator",
    "modifiers": "",
    "units": "",
    "dx_pointers": "",
    "state": "candidate",
    "missing": "",
    "evidence": "0199aaaa-0000-7000-8000-0000000000b7",
    "rule": "dx-avb-3",
    "rule_edition": "2026.1",
    "bundling_check": "not_checked",
    "decided_by": "",
    "decided_at": "",
    "reason": "",
    "open_questions": "0",
    "edition_confirmed": "yes",
}
EXAMPLE_LINE = (
    "wiremark-codes/1,E0007,0199aaaa-0000-7000-8000-0000000000a1,1," + "9f" * 31 + "c2,"
    "signed,00041207,V0093311,TESTPERSON,ALMA,1951-02-03,female,2026-05-14,"
    "2026-05-14T03:12-04:00,2026-05-14T03:51-04:00,exact,emergency,,23,1234567893,,"
    "HOSP1,1,professional,ICD-10-CM,FY2026-Apr,I44.2,"
    "complete heart block stated by operator,,,,candidate,,"
    "0199aaaa-0000-7000-8000-0000000000b7,dx-avb-3,2026.1,not_checked,,,,0,yes"
)
FREE = [column.name for column in COLUMNS if column.is_free_text]


def read_back(raw: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(raw.decode(), newline="")))


def exported(**change: str) -> dict[str, str]:
    return read_back(codes_csv([{**EXAMPLE, **change}]))[0]


def test_the_example_row_is_written_as_it_is_described():
    lines = codes_csv([EXAMPLE]).decode().split("\r\n")
    assert lines[0] == ",".join(NAMES)
    digest = hashlib.sha256(EXAMPLE_LINE.encode()).hexdigest()
    assert lines[1] == f"{EXAMPLE_LINE},{digest}"
    assert lines[2] == ""


def test_there_are_43_columns_in_the_order_described():
    assert len(NAMES) == 43
    assert [*EXAMPLE, "row_sha256"] == list(NAMES)


def test_it_is_read_back_by_the_standard_reader():
    rows = read_back(codes_csv([EXAMPLE, {**EXAMPLE, "line": "2"}]))
    assert [row["line"] for row in rows] == ["1", "2"]
    assert {k: v for k, v in rows[0].items() if k != "row_sha256"} == EXAMPLE


def test_leading_zeros_and_dots_are_kept_as_text():
    # Source: csvkit #977 and csvs-to-sqlite #62: identifiers that became numbers.
    for number in ("007", "00120.50", "1e5", "0x10", "12345678901234567890"):
        assert exported(mrn=number)["mrn"] == number


HOSTILE = [
    # Those that a spreadsheet would take for a formula are tried below.
    *(line for line in LINES if line[0] not in "=-@"),
    "<b>Ó'Brien & Søn</b>",
    "a\r\nb",
    "a\nb",
    "a,b;c",
    "x\ty",
    "\x1b[0m",
    "n\x00l",
    "y" * 3000,
    "",
    "   ",
]


@pytest.mark.parametrize("text", HOSTILE, ids=[str(n) for n in range(len(HOSTILE))])
def test_hostile_text_stands_as_typed(text):
    row = exported(family=text, given=text)
    assert row["family"] == text
    assert row["given"] == text
    assert len(row) == 43


FORMULAS = ["=1+1", "+1", "-5", "@x", "\t=1", "\r=1", "=cmd|' /C calc'!A0", "＝1"]


@pytest.mark.parametrize("column", FREE)
@pytest.mark.parametrize("text", FORMULAS, ids=[str(n) for n in range(len(FORMULAS))])
def test_free_text_never_begins_as_a_formula(text, column):
    # Source: public reports on cells that begin with = + - @ tab or CR, and the
    # full-width equals sign.
    assert exported(**{column: text})[column] == f"'{text}"


@pytest.mark.parametrize("column", [c.name for c in COLUMNS[:-1] if not c.is_free_text])
@pytest.mark.parametrize("text", ["=1+1", "+1", "@x", "a b!", "-1"])
def test_a_checked_column_refuses_what_it_cannot_hold(text, column):
    with pytest.raises(CannotExport) as refused:
        codes_csv([{**EXAMPLE, column: text}])
    assert refused.value.column == column
    assert column in str(refused.value)


def test_a_wrong_check_digit_is_refused():
    # Worked example of the check digit: 1234567893 holds, 1234567890 does not.
    with pytest.raises(CannotExport, match="operator_npi"):
        exported(operator_npi="1234567890")
    for good in ("1234567893", "1000000004", "2000000002", ""):
        assert exported(supervisor_npi=good)["supervisor_npi"] == good


def test_each_row_carries_the_digest_of_its_own_bytes():
    raw = codes_csv([{**EXAMPLE, "family": 'Ó"Brien, Søn', "given": "=x"}])
    line = raw.decode().split("\r\n")[1]
    written, _, digest = line.rpartition(",")
    assert hashlib.sha256(written.encode()).hexdigest() == digest


def test_a_cell_with_only_a_line_end_letter_is_quoted():
    assert as_line(["a\rb", "c\nd"]) == '"a\rb","c\nd"'
    assert row_sha256(["a"]) == hashlib.sha256(b"a").hexdigest()


def test_the_columns_file_repeats_the_table():
    rows = list(csv.DictReader(io.StringIO(columns_csv().decode(), newline="")))
    assert [row["column"] for row in rows] == list(NAMES)
    assert [row["number"] for row in rows] == [str(n) for n in range(1, 44)]
    assert all(row["type"] for row in rows)


def test_a_lone_surrogate_does_not_stop_the_file():
    assert exported(family="a\ud800b")["family"] == "a?b"
