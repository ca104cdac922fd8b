"""The coding desk and the file it hands out, from a tablet's entries to a coder."""

from __future__ import annotations

import csv
import hashlib
import io
import re
import sqlite3

import pytest

from tests.support.cast import PASSWORD, SIGNER
from tests.support.sent_cases import sends_case
from webapp.app import create_app
from webapp.coding.columns import NAMES
from webapp.record import exports
from webapp.settings import load

NOBODYS = "019e2718-3b40-7762-a204-063018bb8aaa"
CPT_ON = """
[cpt_enabled]
by = "R. Wend-Example"
role = "administrator"
on = "2031-01-02"
licence_reference = "test only"
"""


@pytest.fixture
def clean(tablet):
    return sends_case(tablet, "demo/1-clean-emergency")


@pytest.fixture
def signs(cast):
    """Let the signer sign a record, as often as asked."""
    cast.signer.signs_in()

    def sign(record):
        page = f"/records/{record}/sign"
        text = cast.signer.opens(page).text
        digest = re.search(r'name="digest" value="([0-9a-f]{64})"', text).group(1)
        upto = re.search(r'name="upto" value="(\d+)"', text).group(1)
        answer = cast.signer.posts(
            page, digest=digest, upto=upto, agree="yes", password=PASSWORD
        )
        assert answer.status_code == 302
        return record

    return sign


def rows_of(answer) -> list[dict[str, str]]:
    assert answer.status_code == 200
    assert answer.mimetype == "text/csv"
    return list(csv.DictReader(io.StringIO(answer.data.decode(), newline="")))


def by_rule(rows, view="professional"):
    return {row["rule"]: row for row in rows if row["view"] == view}


ADDRESSES = ["/coding", "/coding/{record}", "/records/{record}/codes.csv"]
ADDRESSES += ["/coding/codes.csv?record={record}", "/coding/columns.csv"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_nobody_is_sent_to_sign_in(client, clean, address):
    answer = client.get(address.format(record=clean), headers={"Accept": "text/html"})
    assert answer.status_code == 302
    assert "/sign-in" in answer.location


@pytest.mark.parametrize("address", ADDRESSES)
@pytest.mark.parametrize("who", ["recorder", "signer", "administrator", "elsewhere"])
def test_only_a_coder_reaches_the_coding_desk(cast, clean, address, who):
    actor = getattr(cast, who)
    actor.signs_in()
    assert actor.opens(address.format(record=clean)).status_code == 403


@pytest.mark.parametrize(
    "record", [NOBODYS, "none", "1", "%00", "a" * 300], ids=["unknown", *"abcd"]
)
def test_a_record_that_is_not_there_is_not_found(coder, record):
    assert coder.opens(f"/coding/{record}").status_code == 404
    assert coder.opens(f"/records/{record}/codes.csv").status_code == 404
    assert coder.opens(f"/coding/codes.csv?record={record}").status_code == 404


def test_an_unsigned_record_can_be_read_but_not_handed_out(coder, db, clean):
    page = coder.opens(f"/coding/{clean}").text
    assert "Not signed. What stands here is a draft" in page
    assert "data-hand" not in page
    answer = coder.opens(f"/records/{clean}/codes.csv")
    assert answer.status_code == 409
    assert "Not signed, so nothing was handed out: ALDERMERE" in answer.text
    assert exports.last_handed(db) == {}
    assert exports.lines_of(db, clean) == {}


def test_a_signed_record_is_handed_out_with_every_column(coder, signs, clean, db):
    signs(clean)
    rows = rows_of(coder.opens(f"/records/{clean}/codes.csv"))
    assert list(rows[0]) == list(NAMES)
    note = exports.signed_note(db, clean)
    assert {row["record_id"] for row in rows} == {clean}
    assert {row["note_sha256"] for row in rows} == {note.pdf_sha256}
    assert {row["note_state"] for row in rows} == {"signed"}
    assert {row["family"] for row in rows} == {"ALDERMERE"}
    assert {row["facility"] for row in rows} == {"EHH"}
    assert {row["pos"] for row in rows} == {"23"}
    assert [int(row["line"]) for row in rows] == list(range(1, len(rows) + 1))


def test_the_times_are_the_hospitals(coder, signs, clean):
    signs(clean)
    row = rows_of(coder.opens(f"/records/{clean}/codes.csv"))[0]
    # The tablet stood in Chicago, 10:35 to 10:51; this hospital is in Oslo.
    assert row["service_date"] == "2026-05-14"
    assert row["start_local"] == "2026-05-14T17:35+02:00"
    assert row["stop_local"] == "2026-05-14T17:51+02:00"
    assert row["time_certainty"] == "exact"


def test_the_identifier_of_the_one_who_signed_stands_for_the_operator(
    coder, signs, tablet
):
    record = tablet.opens()
    tablet.sets(record, "indication.main_rhythm", "complete_av_block")
    tablet.syncs()
    signs(record)
    row = rows_of(coder.opens(f"/records/{record}/codes.csv"))[0]
    assert row["operator_npi"] == SIGNER.npi


def test_claim_numbers_stay_empty_until_the_site_enables_them(coder, signs, clean):
    signs(clean)
    rows = rows_of(coder.opens(f"/records/{clean}/codes.csv"))
    claimed = [row for row in rows if row["code_system"] == "CPT"]
    assert claimed
    assert {row["code"] for row in claimed} == {""}
    assert {row["reason"] for row in claimed} == {"not enabled here"}
    page = coder.opens(f"/coding/{clean}").text
    assert "<b>CPT</b> not enabled here" in page
    assert not re.search(r"\b(33210|33211|76937)\b", page)


def test_an_enabled_site_shows_them(site, db, cast, signs, clean):
    signs(clean)
    file = site.home / "wiremark.toml"
    file.write_text(file.read_text(encoding="utf-8") + CPT_ON, encoding="utf-8")
    enabled = create_app(load(site.home)).test_client()
    with enabled.session_transaction() as session:
        cast.coder.signs_in()
        with cast.coder.client.session_transaction() as known:
            session.update(known)
    rows = rows_of(enabled.get(f"/records/{clean}/codes.csv"))
    found = by_rule(rows)
    assert found["px-wire-one-chamber"]["code"] == "33210"
    assert found["px-wire-one-chamber"]["state"] == "candidate"
    assert found["px-wire-one-chamber"]["dx_pointers"] == found["dx-avb-3"]["line"]
    assert found["px-guidance"]["reason"] == "included with pacing work; check edits"
    assert "enabled by R. Wend-Example" in enabled.get(f"/coding/{clean}").text


@pytest.mark.parametrize(
    ("case", "expected"),
    [
        (
            "published/CR-01",
            {"dx-avb-3": "missing", "dx-shock": "missing", "px-pacing-cont": "missing"},
        ),
        (
            "published/CR-02",
            {
                "dx-avb-3": "candidate",
                "dx-infarct-rca": "missing",
                "px-pacing-cont": "missing",
            },
        ),
    ],
    ids=["CR-01", "CR-02"],
)
def test_a_published_case_reaches_the_coder_as_it_was_told(
    coder, signs, tablet, case, expected
):
    record = sends_case(tablet, case)
    signs(record)
    rows = rows_of(coder.opens(f"/records/{record}/codes.csv"))
    found = {
        row["rule"]: row["state"]
        for row in rows
        if row["code_system"] != "CPT" and row["rule"] != "px-pacing-int"
    }
    assert found == expected
    assert {row["edition_confirmed"] for row in rows} == {"no"}
    assert {row["service_date"] for row in rows} == {""}


def test_the_export_is_logged_with_its_count_and_digest(coder, signs, clean, db):
    signs(clean)
    answer = coder.opens(f"/records/{clean}/codes.csv")
    logged = db.conn.execute("SELECT * FROM export_log").fetchall()
    assert len(logged) == 1
    (row,) = logged
    assert row["id"] == "E0001"
    assert row["rows"] == len(rows_of(answer))
    assert row["sha256"] == hashlib.sha256(answer.data).hexdigest()
    assert row["records"] == clean
    assert row["person"] == coder.person.id
    opened = db.conn.execute(
        "SELECT what, record, detail FROM access_log WHERE what LIKE 'codes:%'"
    ).fetchall()
    assert [tuple(o) for o in opened] == [("codes:hand_out", clean, "E0001")]


def test_handing_out_twice_gives_the_same_lines_under_a_new_export(coder, signs, clean):
    signs(clean)
    first, again = (
        rows_of(coder.opens(f"/records/{clean}/codes.csv")) for _ in range(2)
    )
    assert {row["export_id"] for row in first} == {"E0001"}
    assert {row["export_id"] for row in again} == {"E0002"}
    different = {"export_id", "row_sha256"}
    for one, other in zip(first, again, strict=True):
        assert {k for k in one if one[k] != other[k]} == different


def test_late_entries_are_not_part_of_what_is_handed_out(coder, signs, tablet, clean):
    signs(clean)
    before = rows_of(coder.opens(f"/records/{clean}/codes.csv"))
    tablet.sets(clean, "indication.main_rhythm", "sinus_bradycardia")
    tablet.syncs()
    after = rows_of(coder.opens(f"/records/{clean}/codes.csv"))
    assert [r["rule"] for r in after] == [r["rule"] for r in before]
    page = coder.opens(f"/coding/{clean}").text
    assert "Entries since signing, not part of the signed note: 1" in page


def test_a_line_keeps_its_number_in_every_later_note(coder, signs, tablet):
    record = tablet.opens()
    tablet.sets(record, "indication.main_rhythm", "complete_av_block")
    tablet.syncs()
    signs(record)
    first = by_rule(rows_of(coder.opens(f"/records/{record}/codes.csv")))
    tablet.sets(record, "indication.compromise", ["shock"])
    tablet.sets(record, "indication.with_rhythms", ["right_bundle_branch_block"])
    tablet.syncs()
    signs(record)
    second = by_rule(rows_of(coder.opens(f"/records/{record}/codes.csv")))
    for rule, row in first.items():
        assert second[rule]["line"] == row["line"]
        assert second[rule]["note_version"] == "2"
    known = {row["line"] for row in first.values()}
    assert second["dx-rbbb"]["line"] not in known


def test_a_line_that_is_gone_is_sent_as_removed(coder, signs, tablet):
    record = tablet.opens()
    tablet.sets(record, "indication.main_rhythm", "complete_av_block")
    tablet.syncs()
    signs(record)
    first = by_rule(rows_of(coder.opens(f"/records/{record}/codes.csv")))
    tablet.sets(record, "indication.main_rhythm", "second_degree_type_2")
    tablet.syncs()
    signs(record)
    second = by_rule(rows_of(coder.opens(f"/records/{record}/codes.csv")))
    assert second["dx-avb-3"]["state"] == "removed"
    assert second["dx-avb-3"]["line"] == first["dx-avb-3"]["line"]
    assert second["dx-avb-3"]["code"] == "I44.2"
    assert second["dx-avb-3"]["reason"] == "no longer in the signed note"
    assert second["dx-avb-2"]["state"] == "candidate"


def test_a_handed_out_line_cannot_lose_its_number(coder, signs, clean, db):
    signs(clean)
    coder.opens(f"/records/{clean}/codes.csv")
    for statement in (
        "DELETE FROM code_line",
        "UPDATE code_line SET line = line + 100",
        "UPDATE code_line SET key = 'other' WHERE line = 1",
    ):
        with pytest.raises(sqlite3.IntegrityError):
            db.conn.execute(statement)


def test_several_records_are_one_file(coder, signs, tablet, clean):
    other = sends_case(tablet, "published/CR-02")
    signs(clean)
    signs(other)
    address = f"/coding/codes.csv?record={clean}&record={other}&record={clean}"
    rows = rows_of(coder.opens(address))
    assert {row["record_id"] for row in rows} == {clean, other}
    assert {row["export_id"] for row in rows} == {"E0001"}
    assert len({(row["record_id"], row["line"]) for row in rows}) == len(rows)


def test_one_unsigned_record_among_several_stops_the_whole_file(
    coder, signs, tablet, clean, db
):
    other = sends_case(tablet, "published/CR-02")
    signs(clean)
    answer = coder.opens(f"/coding/codes.csv?record={clean}&record={other}")
    assert answer.status_code == 409
    assert "Man, early sixties" in answer.text
    assert "ALDERMERE" not in answer.text
    assert exports.last_handed(db) == {}


def test_no_record_chosen_is_told(coder):
    answer = coder.opens("/coding/codes.csv")
    assert answer.status_code == 400
    assert "Choose at least one signed record." in answer.text


def test_a_spreadsheet_gets_its_mark_only_when_asked(coder, signs, clean):
    signs(clean)
    plain = coder.opens(f"/records/{clean}/codes.csv").data
    marked = coder.opens(f"/records/{clean}/codes.csv?bom=1").data
    assert not plain.startswith(b"\xef\xbb\xbf")
    assert marked.startswith(b"\xef\xbb\xbf")


def test_a_hostile_name_stands_as_typed_on_the_page_and_in_the_file(
    coder, signs, tablet
):
    name, given = "<b>Ó'Brien & Søn</b>", "=1+1" + "w" * 70
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", name)
    tablet.sets(record, "patient.given_name", given)
    tablet.sets(record, "patient.record_number", "00041207")
    tablet.sets(record, "indication.main_rhythm", "complete_av_block")
    tablet.syncs()
    signs(record)
    answer = coder.opens(f"/records/{record}/codes.csv")
    row = rows_of(answer)[0]
    assert row["family"] == name
    assert row["given"] == f"'{given}"
    assert row["mrn"] == "00041207"
    assert name not in answer.headers["Content-Disposition"]
    page = coder.opens(f"/coding/{record}").text
    assert "&lt;b&gt;Ó&#39;Brien &amp; Søn&lt;/b&gt;" in page
    assert name not in page


def test_a_site_code_no_column_holds_is_named(site, cast, db, signs, clean):
    signs(clean)
    file = site.home / "wiremark.toml"
    text = file.read_text(encoding="utf-8").replace('"EHH"', '"Harbour, East"')
    file.write_text(text, encoding="utf-8")
    other = create_app(load(site.home)).test_client()
    cast.coder.signs_in()
    with (
        cast.coder.client.session_transaction() as known,
        other.session_transaction() as session,
    ):
        session.update(known)
    answer = other.get(f"/records/{clean}/codes.csv")
    assert answer.status_code == 409
    assert answer.json["errors"][0]["field"] == "facility"
    assert "Harbour, East" in answer.json["error"]
    assert exports.last_handed(db) == {}


def test_the_margin_shows_the_flags_of_one_view_only(coder, signs, clean):
    signs(clean)
    professional = coder.opens(f"/coding/{clean}").text
    inpatient = coder.opens(f"/coding/{clean}?view=inpatient").text
    assert "5A1223Z" in inpatient
    assert "5A1223Z" not in professional
    assert 'data-kind="full"' in professional
    unknown = coder.opens(f"/coding/{clean}?view=payer").text
    flags = re.compile(r'<a class="flag".*?</a>', re.DOTALL)
    assert flags.findall(unknown) == flags.findall(professional) != []


def test_the_drawer_names_rule_source_and_evidence(coder, signs, clean, db):
    signs(clean)
    page = coder.opens(f"/coding/{clean}").text
    assert "rule dx-avb-3, edition 2026.1" in page
    assert "Atrioventricular block, complete" in page
    assert "CDC/NCHS April 2026 tabular list" in page
    assert "Main rhythm: Complete AV block" in page
    opened = db.conn.execute(
        "SELECT count(*) FROM access_log WHERE what = 'codes:open'"
    ).fetchone()
    assert opened[0] == 1


def test_a_missing_word_and_its_question_stand_in_the_drawer(coder, signs, tablet):
    record = sends_case(tablet, "published/CR-01")
    signs(record)
    page = coder.opens(f"/coding/{record}").text
    assert "missing: provider to state the rhythm" in page
    assert "Question to the clinician: Rhythm" in page
    assert "cannot be determined" in page


def test_the_list_puts_the_oldest_ready_record_first(coder, signs, tablet, clean):
    other = sends_case(tablet, "published/CR-02")
    third = sends_case(tablet, "published/CR-01")
    signs(other)
    signs(clean)
    page = coder.opens("/coding").text
    places = [page.index(f"/coding/{record}") for record in (other, clean, third)]
    assert places == sorted(places)
    assert page.count('type="checkbox"') == 2


def test_an_empty_list_says_so(coder):
    assert "No record has reached the server yet." in coder.opens("/coding").text


def test_the_columns_file_can_be_had(coder):
    rows = rows_of(coder.opens("/coding/columns.csv"))
    assert [row["column"] for row in rows] == list(NAMES)
