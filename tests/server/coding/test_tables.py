"""Code tables against an independent package, and the windows they may serve."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from tests.support import icd
from webapp.coding.dates import local_day
from webapp.coding.order_file import as_json, read_order_file
from webapp.coding.rules import load_rules
from webapp.coding.tables import (
    SHIPPED_TABLES,
    UnusableTable,
    digest,
    load_tables,
    read_file,
    read_table,
)

TABLES = load_tables()
CM = next(t for t in TABLES.tables if t.system == "ICD-10-CM")
PCS = next(t for t in TABLES.tables if t.system == "ICD-10-PCS")


@pytest.mark.parametrize("code", sorted(CM.billable))
def test_a_shipped_code_is_a_leaf_with_the_same_title_elsewhere(code):
    # Source: PyPI simple-icd-10-cm 1.5.0, the April 2026 tabular list.
    assert icd.is_leaf(code)
    assert CM.title(code) == icd.title(code)


@pytest.mark.parametrize("code", sorted(CM.headers))
def test_a_header_is_known_elsewhere_and_is_no_leaf(code):
    assert icd.is_known(code)
    assert not icd.is_leaf(code)
    assert not CM.is_leaf(code)


def test_every_diagnosis_code_of_a_rule_is_a_leaf_of_the_shipped_table():
    for rule in load_rules():
        codes = (rule.code,) if rule.code else rule.between
        if rule.system == "ICD-10-CM":
            assert all(CM.is_leaf(code) and icd.is_leaf(code) for code in codes)
        if rule.system == "ICD-10-PCS":
            assert all(PCS.is_leaf(code) for code in codes)


def test_a_retired_code_is_not_in_the_table():
    # T81.4XXA was retired; its successors are T81.40XA to T81.49XA.
    assert not CM.is_leaf("T81.4XXA")
    assert not icd.is_known("T81.4XXA")
    assert CM.is_leaf("T81.49XA")


def test_the_pacing_codes_have_the_titles_of_the_order_file():
    # Source: CMS ICD-10-PCS FY2022 order file, long titles.
    assert PCS.title("5A1223Z") == "Performance of Cardiac Pacing, Continuous"
    assert PCS.title("5A1213Z") == "Performance of Cardiac Pacing, Intermittent"


def test_every_shipped_table_says_where_it_comes_from():
    for table in TABLES.tables:
        assert table.source
        assert table.licence
        assert digest(table.billable, table.headers) == table.sha256


def test_no_claim_number_system_has_a_table_with_titles():
    assert {t.system for t in TABLES.tables} == {"ICD-10-CM", "ICD-10-PCS"}


# Fiscal years start on 1 October; the April release is a window of its own.
EDGES = [
    ("2026-09-30T23:59", True),
    ("2026-09-30T23:59:59", True),
    ("2026-10-01T00:00", False),
    ("2026-10-01T00:01", False),
    ("2026-03-31T23:59", False),
    ("2026-03-31T23:59:59", False),
    ("2026-04-01T00:00", True),
    ("2026-04-01T00:01", True),
]
ZONES = ["America/New_York", "Pacific/Honolulu", "Pacific/Auckland", "UTC"]


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize(("wall", "served"), EDGES)
def test_the_edition_goes_by_the_hospitals_own_day(wall, served, zone):
    at = datetime.fromisoformat(wall).replace(tzinfo=ZoneInfo(zone))
    utc = at.astimezone(UTC)
    # The tablet stood in another zone: only the instant and the hospital count.
    moment = {
        "utc": utc.strftime("%Y-%m-%dT%H:%M:%S.000Z"),
        "zone": "Europe/Oslo",
        "offset_min": 60,
        "certainty": "exact",
        "clock": "tablet",
    }
    day = local_day(moment, zone)
    assert day == at.date()
    found = TABLES.look_up("ICD-10-CM", day)
    assert found.confirmed is served
    assert found.table is CM


def test_a_day_without_an_hour_is_that_day_in_every_zone():
    moment = {"day": "2026-09-30", "certainty": "day"}
    assert {local_day(moment, zone) for zone in ZONES} == {date(2026, 9, 30)}


def test_an_unsettled_date_uses_the_latest_edition_unconfirmed():
    found = TABLES.look_up("ICD-10-CM", None)
    assert found.table is CM
    assert not found.confirmed


def test_a_system_without_any_table_is_looked_up_in_none():
    found = TABLES.look_up("CPT", date(2026, 5, 14))
    assert found.table is None
    assert not found.confirmed


def order_line(number: int, code: str, flag: str, title: str) -> str:
    # Layout of the yearly order files: 1-5, 7-13, 15, 17-76, 78 to the end.
    return f"{number:05d} {code:<7} {flag} {title[:60]:<60} {title}"


def order_file() -> bytes:
    lines = [
        order_line(1, "I44", "0", "Atrioventricular and left bundle-branch block"),
        order_line(2, "I442", "1", "Atrioventricular block, complete"),
        order_line(3, "H8101", "1", "Ménière's disease, right ear"),
    ]
    return "\r\n".join(lines).encode("latin-1") + b"\r\n"


FY2032 = (date(2031, 10, 1), date(2032, 9, 30))


def test_an_official_order_file_becomes_a_table():
    name = "icd10cm_order_2032.txt"
    table = read_order_file(order_file(), "ICD-10-CM", "FY2032", FY2032, name)
    assert table.title("I44.2") == "Atrioventricular block, complete"
    assert table.title("H81.01") == "Ménière's disease, right ear"
    assert not table.is_leaf("I44")
    assert table.serves(date(2031, 11, 24))


def test_a_loaded_year_confirms_its_dates_without_any_change_of_code(tmp_path):
    name = "icd10cm_order_2032.txt"
    table = read_order_file(order_file(), "ICD-10-CM", "FY2032", FY2032, name)
    (tmp_path / "fy2032.json").write_text(json.dumps(as_json(table)), encoding="utf-8")
    found = load_tables(tmp_path).look_up("ICD-10-CM", date(2031, 11, 24))
    assert found.table is not None
    assert (found.table.edition, found.confirmed) == ("FY2032", True)


def test_a_line_that_is_no_order_line_is_named():
    raw = order_file() + b"something else\r\n"
    with pytest.raises(UnusableTable, match="line 4"):
        read_order_file(raw, "ICD-10-CM", "FY2032", FY2032, "x")


def test_an_empty_order_file_is_refused():
    with pytest.raises(UnusableTable, match="no code"):
        read_order_file(b"", "ICD-10-CM", "FY2032", FY2032, "x")


def test_a_changed_table_is_refused_by_its_file_name(tmp_path):
    text = (SHIPPED_TABLES / "icd-10-pcs-fy2022.toml").read_text(encoding="utf-8")
    file = tmp_path / "changed.toml"
    file.write_text(text.replace("Continuous", "Sometimes"), encoding="utf-8")
    with pytest.raises(UnusableTable, match=r"changed\.toml: sha256"):
        read_file(file)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"source": ""}, "source"),
        ({"valid_from": "2026-13-01"}, "month"),
        ({"valid_from": 2026}, "valid_from is not a date"),
        ({"valid_to": "2020-01-01"}, "valid_to lies before"),
    ],
    ids=["source", "month", "kind", "order"],
)
def test_a_table_without_its_facts_is_refused(change, word):
    raw = as_json(CM)
    with pytest.raises(ValueError, match=word):
        read_table({**raw, **change})
