"""The published cases give exactly the candidates and refusals named for them.

Source: published cases CR-01, 02, 06, 08 with their code lines; a site with claim
numbers enabled and a named coder who confirmed the rules these cases need.
"""

from __future__ import annotations

from tests.support.published import published_case
from webapp.coding.findings import Finding
from webapp.coding.rules import load_rules
from webapp.coding.sheet import Sheet, make_judge
from webapp.coding.site import SiteCoding
from webapp.coding.tables import load_tables

SITE = SiteCoding(zone="America/Chicago", switches=frozenset(["cpt_enabled"]))
JUDGE = make_judge(load_rules(), load_tables(), SITE)


def signed_sheet(name: str) -> Sheet:
    """Return the sheet of a published case, signed by its treating clinician."""
    case = published_case(name)
    return JUDGE.sheet(case, case.fold["order"])


def by_code(sheet: Sheet) -> dict[str, str]:
    """Return the state of each code; the same in every view it stands in."""
    found: dict[str, str] = {}
    for finding in sheet.findings:
        known = found.setdefault(finding.code, finding.state)
        assert known == finding.state
    return found


def one(sheet: Sheet, code: str) -> Finding:
    return next(f for f in sheet.findings if f.code == code)


def missing(sheet: Sheet, code: str) -> list[str]:
    return [m.words for m in one(sheet, code).missing]


def test_cr_01_gives_these_codes_and_no_others():
    assert by_code(signed_sheet("CR-01")) == {
        "I44.2": "missing",
        "R57.9": "missing",
        "33210": "missing",
        "5A1223Z": "missing",
        "5A1213Z": "missing",
    }


def test_cr_01_waits_for_the_provider_to_state_the_rhythm():
    sheet = signed_sheet("CR-01")
    assert missing(sheet, "I44.2") == ["provider to state the rhythm"]
    assert missing(sheet, "R57.9") == ["type of shock, or that it cannot be determined"]


def test_cr_01_has_nothing_about_site_chamber_outcome_or_pacing():
    sheet = signed_sheet("CR-01")
    assert missing(sheet, "33210") == [
        "chamber",
        "site and side",
        "outcome",
        "first puncture",
        "dressing on",
    ]
    assert missing(sheet, "5A1223Z") == [
        "generator on",
        "pacing delivered",
        "start of pacing",
    ]


def test_cr_02_gives_these_codes_and_no_others():
    assert by_code(signed_sheet("CR-02")) == {
        "I44.2": "candidate",
        "I21.11": "missing",
        "33210": "missing",
        "5A1223Z": "missing",
        "5A1213Z": "missing",
    }


def test_cr_02_lacks_the_onset_and_the_start_of_pacing():
    sheet = signed_sheet("CR-02")
    assert missing(sheet, "I21.11") == ["onset, for the four-week rule"]
    assert {"chamber", "site and side", "outcome"} <= set(missing(sheet, "33210"))
    assert missing(sheet, "5A1223Z") == ["generator on", "start of pacing"]


def test_cr_02_offers_no_shock_and_no_complication():
    codes = set(by_code(signed_sheet("CR-02")))
    assert not [c for c in codes if c.startswith(("R57", "I97", "T8", "J9", "R41"))]


def test_cr_06_gives_no_pacing_where_the_wire_did_not_capture():
    sheet = signed_sheet("CR-06")
    assert by_code(sheet) == {
        "I44.2": "candidate",
        "I48.21": "candidate",
        "33210": "missing",
        "5A1223Z": "not_offered",
        "5A1213Z": "not_offered",
    }
    assert "outcome" in missing(sheet, "33210")
    assert one(sheet, "5A1223Z").because.startswith("no reliable pacing")


def test_cr_08_offers_no_symptom_beside_its_cause_and_no_puncture_during():
    assert by_code(signed_sheet("CR-08")) == {
        "I44.2": "candidate",
        "R55": "not_offered",
        "33210": "missing",
        "5A1223Z": "missing",
        "5A1213Z": "missing",
    }
    assert missing(signed_sheet("CR-08"), "33210")[:2] == ["chamber", "outcome"]


def test_neither_case_settles_an_edition_it_has_no_date_for():
    for name in ("CR-01", "CR-02"):
        sheet = signed_sheet(name)
        assert sheet.span.day is None
        assert not any(f.confirmed for f in sheet.findings)


def test_before_signing_an_assistants_entries_wait_for_the_provider():
    case = published_case("CR-01")
    draft = JUDGE.sheet(case)
    assert "provider to state shock" in missing(draft, "R57.9")
