"""The coded part of the note: words and diagnosis codes, no claim and no rule."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from tests.support.published import published_case
from tests.support.records import record_names, small_record
from webapp.coding.facts import facts_of, head_of
from webapp.coding.rules import load_rules
from webapp.coding.sheet import make_judge
from webapp.coding.site import SiteCoding
from webapp.coding.tables import load_tables

SITE = SiteCoding(zone="America/New_York")
JUDGE = make_judge(load_rules(), load_tables(), SITE)
PERSON = {
    "person": None,
    "name": "E. Tarn-Example",
    "role": "operator",
    "credential": "",
}


def of_kind(case, kind):
    return [fact for fact in facts_of(JUDGE, case) if fact.kind == kind]


def test_a_diagnosis_stands_in_the_providers_words_with_code_and_edition():
    (fact,) = of_kind(small_record("complete-block").case, "diagnosis")
    assert (fact.words, fact.code) == ("Complete AV block", "I44.2")
    assert (fact.edition, fact.stated_by) == ("FY2026-Apr", "E. Tarn-Example")
    assert len(fact.evidence) == 1


def test_of_several_rhythms_only_the_one_the_code_is_about_is_told():
    case = small_record("high-grade-block-typed").case
    told = {fact.code: fact.words for fact in of_kind(case, "diagnosis")}
    assert told == {"I44.1": "Second-degree AV block, type II"}


def test_a_row_is_told_in_its_own_words():
    (fact,) = of_kind(small_record("beta-blocker-deliberate").case, "diagnosis")
    assert (fact.words, fact.code) == ("Beta-blocker, Deliberate", "T44.7X2A")


def test_what_is_missing_is_told_beside_the_statement():
    (fact,) = of_kind(small_record("stemi-rca-no-onset").case, "diagnosis")
    assert fact.code == "I21.11"
    assert fact.words == (
        "ST-elevation, Right coronary"
        " (something missing: onset, for the four-week rule)"
    )


def test_rows_that_together_make_a_diagnosis_are_told_together():
    rules = [replace(r, confirmed_by="A. Coder-Example, CCS") for r in load_rules()]
    judge = make_judge(rules, load_tables(), SITE)
    case = small_record("hypertension-ckd-two-stages").case
    told = {f.code: f.words for f in facts_of(judge, case) if f.kind == "diagnosis"}
    assert told["I12.9"] == (
        "Hypertension, Stage 3; According to: source 1, Stage 4; According to: source 2"
        " (something missing: kidney disease: two answers)"
    )


def test_a_value_that_nobody_gave_a_meaning_is_no_stated_diagnosis():
    assert of_kind(small_record("potassium-high").case, "diagnosis") == []


def test_what_only_the_coder_decides_is_not_missing_from_the_note():
    case = small_record("not-done-by-choice").case
    assert not [f for f in of_kind(case, "not_recorded") if "coder" in f.words]


def test_what_a_crew_told_is_no_diagnosis_but_is_named_as_not_recorded():
    case = published_case("CR-01")
    assert "I44.2" not in {fact.code for fact in of_kind(case, "diagnosis")}
    missing = [fact.words for fact in of_kind(case, "not_recorded")]
    assert "provider to state the rhythm" in missing


def test_a_nurses_entry_counts_in_the_note_that_a_provider_signs():
    (fact,) = of_kind(small_record("rhythm-by-nurse").case, "diagnosis")
    assert fact.code == "I44.2"


def test_the_procedure_is_told_per_wire_with_its_times():
    record = small_record("pacing")
    record.adds("patient.people", {"person": PERSON, "role": "operator"})
    told = [fact.words for fact in of_kind(record.case, "procedure")]
    assert told == [
        "Wire 1: New here, Right ventricle, site and side not asked",
        "First paced beat: 14 May 2026 03:44",
        "Outcome of the procedure: Capturing, wire in",
        "First puncture: 14 May 2026 03:12",
        "Dressing on: 14 May 2026 03:51",
        "Operator: E. Tarn-Example (operator)",
    ]


def test_another_line_is_separately_evidenced_and_the_introducer_is_not():
    record = small_record("wire-one")
    assert of_kind(record.case, "separate") == []
    row = {"kind": "central_venous", "site": "femoral_left", "purpose": "drugs"}
    entry = record.adds("approach.other_line", row)
    (fact,) = of_kind(record.case, "separate")
    assert fact.evidence == (entry,)
    assert "Central venous" in fact.words


@pytest.mark.parametrize(
    ("start", "stop", "told"),
    [
        # Over midnight, over the autumn hour: elapsed, not the clock's difference.
        ("2026-05-15T03:50:00.000Z", "2026-05-15T04:20:00.000Z", ", 30 min"),
        ("2026-11-01T04:45:00.000Z", "2026-11-01T07:15:59.000Z", ", 150 min"),
        ("2026-05-15T04:20:00.000Z", "2026-05-15T03:50:00.000Z", ""),
    ],
    ids=["midnight", "autumn", "backwards"],
)
def test_critical_care_is_told_in_minutes_of_one_person(start, stop, told):
    record = small_record("wire-one")
    span = {"zone": "America/New_York", "offset_min": -240, "certainty": "exact"}
    moments = {
        name: {**span, "utc": utc, "clock": "tablet"}
        for name, utc in (("start", start), ("stop", stop))
    }
    record.adds("finish.critical_care", {"person": PERSON, **moments})
    (fact,) = of_kind(record.case, "separate")
    assert fact.words.startswith("Critical care: E. Tarn-Example")
    assert fact.words.endswith(told)
    assert ("min" in fact.words) is bool(told)


def test_the_first_line_names_date_status_and_edition():
    case = small_record("wire-one").case
    assert head_of(JUDGE, case) == (
        "Date of service 14 May 2026",
        "Status then: not asked",
        "Edition: ICD-10-CM FY2026-Apr",
    )


def test_without_a_date_the_edition_is_marked():
    head = head_of(JUDGE, small_record("complete-block").case)
    assert head[0] == "Date of service not recorded"
    assert head[2].endswith("FY2026-Apr; date that decides not known: confirm")


@pytest.mark.parametrize("name", record_names())
def test_no_claim_number_pcs_choice_or_rule_reaches_the_note(name):
    told = facts_of(JUDGE, small_record(name).case)
    codes = {r.code for r in load_rules() if r.code and r.system != "ICD-10-CM"}
    for fact in told:
        assert fact.code not in codes
        assert not re.search(r"\b[0-9]{5}\b|\bpx-|\bdx-", fact.words)
