"""The engine's order of tests, two answers, and what a provider must say."""

from __future__ import annotations

import inspect
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.support.icd import excluded_beside
from tests.support.records import Recording, record_names, site_of, small_record
from webapp.coding import engine
from webapp.coding.engine import judge
from webapp.coding.grounds import Grounds
from webapp.coding.rules import VIEWS, load_rules
from webapp.coding.site import SiteCoding
from webapp.coding.tables import Tables, load_tables

RULES = load_rules()
IN_WINDOW = date(2026, 5, 14)
TABLES = load_tables()
CPT_ON = SiteCoding(switches=frozenset(["cpt_enabled"]))


def grounds(record: Recording, **change) -> Grounds:
    found = Grounds(record.case, TABLES, CPT_ON, VIEWS, IN_WINDOW, frozenset(VIEWS))
    return replace(found, **change)


def found(record: Recording, rule: str, view: str = "", **change) -> list:
    """Return what one rule says, in one view or in the first it stands in."""
    said = [f for f in judge(RULES, grounds(record, **change)) if f.rule.id == rule]
    return [f for f in said if f.view == (view or said[0].view)]


def only(record: Recording, rule: str, view: str = "", **change):
    said = found(record, rule, view, **change)
    assert len(said) == 1
    return said[0]


def named(finding) -> list[str]:
    return [m.words for m in finding.missing]


def test_the_engine_names_no_code_and_stays_short():
    # Coding rules, section 3a: under 200 lines, knows no code by name.
    source = inspect.getsource(engine)
    assert len(source.splitlines()) < 200
    # Two digits of a place of service are also the digits of other things.
    codes = {rule.code for rule in RULES if len(rule.code) > 2}
    folder = Path(engine.__file__).parent
    for file in folder.glob("*.py"):
        text = file.read_text(encoding="utf-8")
        assert not [code for code in codes if code in text], file.name


def test_a_code_outside_the_edition_is_not_offered():
    emptied = Tables(
        replace(t, billable={}, headers={}) if t.system == "ICD-10-CM" else t
        for t in TABLES.tables
    )
    finding = only(small_record("complete-block"), "dx-avb-3", tables=emptied)
    assert finding.state == "not_offered"
    assert finding.because == "not a code of the edition FY2026-Apr"


def test_without_the_edition_of_its_date_a_code_stands_marked():
    day = date(2031, 11, 24)
    finding = only(small_record("complete-block"), "dx-avb-3", day=day)
    assert finding.state == "candidate"
    assert (finding.edition, finding.confirmed) == ("FY2026-Apr", False)
    assert finding.edition_words == "FY2026-Apr; FY2032 not loaded: confirm"


def test_what_only_stands_beside_a_code_waits_for_no_edition():
    site = replace(CPT_ON, require_edition=True)
    day = date(2031, 11, 24)
    finding = only(
        small_record("status-emergency"), "pos-emergency", day=day, site=site
    )
    assert (finding.state, finding.confirmed) == ("candidate", True)


def test_a_site_may_refuse_what_its_edition_does_not_confirm():
    site = replace(CPT_ON, require_edition=True)
    day = date(2031, 11, 24)
    finding = only(small_record("complete-block"), "dx-avb-3", day=day, site=site)
    assert finding.state == "not_offered"
    assert finding.because == "edition of its date not loaded"


def test_a_claim_number_is_not_offered_before_the_site_enables_it():
    finding = only(small_record("wire-one"), "px-wire-one-chamber", site=SiteCoding())
    assert (finding.state, finding.because) == ("not_offered", "not enabled here")


def test_a_rule_that_does_not_apply_is_silent():
    assert found_any(small_record("rhythm-none-yet"), "dx-avb-3") == []


def test_a_rule_that_explains_itself_says_why_it_does_not_apply():
    for name in ("rhythm-none-yet", "wire-not-started"):
        for rule in ("px-wire-one-chamber", "px-pacing-cont", "px-pacing-int"):
            finding = only(small_record(name), rule)
            assert finding.state == "not_offered"
            assert finding.because == "nothing placed in this record"


def test_a_wire_that_was_only_moved_has_no_code():
    finding = only(small_record("wire-repositioned"), "px-wire-one-chamber")
    assert finding.state == "not_offered"
    assert finding.because == "only moved: no code for that is known"


def test_a_wire_that_came_with_the_patient_was_not_placed_here():
    finding = only(small_record("wire-came-with"), "px-wire-one-chamber")
    assert finding.state == "not_offered"
    assert finding.because == "nothing placed in this record"


def test_every_missing_fact_is_named_with_its_path():
    record = small_record("wire-one-no-chamber")
    finding = only(record, "px-wire-one-chamber")
    assert named(finding) == ["chamber"]
    wire = record.case.wires[0].id
    assert finding.missing[0].paths == (f"wires/{wire}/approach.chamber",)
    assert finding.questions == ("q-chamber",)


def test_evidence_is_the_entries_that_were_read():
    record = small_record("wire-one")
    finding = only(record, "px-wire-one-chamber")
    assert finding.state == "candidate"
    paths = {record.case.meta(i)["path"].rpartition("/")[2] for i in finding.evidence}
    assert paths == {
        "approach.wire_came",
        "approach.chamber",
        "approach.site",
        "approach.first_puncture",
        "finish.outcome",
        "finish.dressing_on",
    }


def test_two_wires_are_judged_one_by_one():
    record = small_record("wire-one")
    record.wire({"approach.wire_came": "exchanged_here"})
    states = [f.state for f in found(record, "px-wire-one-chamber")]
    assert states == ["candidate", "missing"]


def test_two_chambers_in_one_session_are_one_code():
    record = small_record("wire-two")
    assert only(record, "px-wire-two-chamber").state == "candidate"
    one = found(record, "px-wire-one-chamber")
    assert {f.state for f in one} == {"not_offered"}
    assert {f.because for f in one} == {"two chambers in one session: one code"}


def test_a_dual_generator_and_mode_prove_no_second_wire():
    record = small_record("wire-dual-mode")
    assert found_any(record, "px-wire-two-chamber") == []
    assert only(record, "px-wire-one-chamber").state == "candidate"


def found_any(record: Recording, rule: str) -> list:
    return [f for f in judge(RULES, grounds(record)) if f.rule.id == rule]


def test_a_larger_procedure_that_day_keeps_the_wire_from_being_offered():
    finding = only(small_record("wire-with-surgery"), "px-wire-one-chamber")
    assert finding.state == "not_offered"
    assert "check edits" in finding.because


def test_beside_a_coronary_intervention_the_wire_is_a_question():
    finding = only(small_record("wire-with-coronary"), "px-wire-one-chamber")
    assert finding.state == "missing"
    assert "q-own-reason" in finding.questions
    assert any("coronary intervention" in words for words in named(finding))


def test_pacing_is_one_code_however_many_wires():
    record = small_record("pacing")
    record.wire({"approach.wire_came": "new_here", "approach.chamber": "ra"})
    finding = only(record, "px-pacing-cont")
    assert finding.state == "candidate"


def test_both_kinds_of_pacing_are_shown_until_the_site_decides():
    record = small_record("pacing")
    for rule in ("px-pacing-cont", "px-pacing-int"):
        assert only(record, rule).state == "candidate"
    site = replace(CPT_ON, policies={"pacing_code": "continuous"})
    assert only(record, "px-pacing-cont", site=site).state == "candidate"
    other = only(record, "px-pacing-int", site=site)
    assert (other.state, other.because) == ("not_offered", "site policy: continuous")


@pytest.mark.parametrize(
    ("name", "because"),
    [
        ("pacing-standby", "standby only: no pacing delivered"),
        ("pacing-no-capture", "no reliable pacing: the wire does not capture"),
    ],
)
def test_no_pacing_code_without_pacing_delivered(name, because):
    finding = only(small_record(name), "px-pacing-cont")
    assert (finding.state, finding.because) == ("not_offered", because)


def test_guidance_with_all_four_elements_stays_with_the_pacing_work():
    finding = only(small_record("guidance-all-four"), "px-guidance")
    assert finding.state == "not_offered"
    assert finding.because == "included with pacing work; check edits"


def test_a_vein_only_marked_by_ultrasound_lacks_the_live_element():
    finding = only(small_record("guidance-marked-only"), "px-guidance")
    assert named(finding) == ["needle entry seen live"]


def test_guidance_by_landmarks_is_not_spoken_of():
    assert found_any(small_record("guidance-landmarks"), "px-guidance") == []


def test_two_answers_in_a_field_a_rule_reads_are_something_missing():
    record = small_record("rhythm-two-answers")
    for rule in ("dx-avb-3", "dx-brady"):
        finding = only(record, rule)
        assert finding.state == "missing"
        assert named(finding) == ["main rhythm: two answers"]
        assert finding.missing[0].paths == ("indication.main_rhythm",)
    needed = only(small_record("wire-two-answers"), "px-wire-one-chamber")
    assert named(needed) == ["outcome of the procedure: two answers"]


def test_two_answers_under_a_not_are_missing_as_well():
    record = small_record("complete-block")
    for value in ("told", "seen_12_lead"):
        record.says("indication.rhythm_certainty", value)
    finding = only(record, "dx-avb-3")
    assert named(finding) == ["seen or told: two answers"]


def test_a_disputed_outcome_keeps_pacing_from_being_a_candidate():
    record = small_record("pacing")
    record.says("finish.outcome", "not_started")
    finding = only(record, "px-pacing-cont")
    assert named(finding) == ["outcome of the procedure: two answers"]


def test_the_same_answer_by_two_people_is_one_answer():
    finding = only(small_record("rhythm-agreed-by-two"), "dx-avb-3")
    assert finding.state == "candidate"


def test_a_rhythm_that_only_a_nurse_entered_waits_for_the_provider():
    finding = only(small_record("rhythm-by-nurse"), "dx-avb-3")
    assert named(finding) == ["provider to state the rhythm"]


def test_what_the_operator_called_out_is_the_operators():
    record = Recording(by="nurse")
    path, value = "indication.main_rhythm", "complete_av_block"
    record.says(path, value, called_by="operator")
    assert only(record, "dx-avb-3").state == "candidate"


def test_what_an_operator_was_told_is_not_their_statement():
    for source in ("told", "device", "copied"):
        record = Recording()
        record.says("indication.main_rhythm", "complete_av_block", source=source)
        finding = only(record, "dx-avb-3")
        assert named(finding) == ["provider to state the rhythm"]


def test_what_a_signer_confirmed_is_the_providers():
    record = small_record("rhythm-by-nurse")
    entry = record.entries[0].id
    finding = only(record, "dx-avb-3", confirmed=frozenset([entry]))
    assert finding.state == "candidate"


def test_what_somebody_else_reported_cannot_be_confirmed_by_signing_alone():
    record = Recording(by="nurse")
    told = record.says("indication.main_rhythm", "complete_av_block", source="told")
    finding = only(record, "dx-avb-3", confirmed=frozenset([told]))
    assert named(finding) == ["provider to state the rhythm"]


def test_a_diagnosis_in_the_providers_own_list_outweighs_a_told_rhythm():
    record = small_record("complete-block-told")
    record.says("finish.post_diagnosis", ["complete_av_block"])
    assert only(record, "dx-avb-3").state == "candidate"


def test_a_struck_wire_was_never_placed():
    record = small_record("wire-one")
    wire = record.case.wires[0].id
    record.strikes("wires", wire)
    finding = only(record, "px-wire-one-chamber")
    assert finding.because == "nothing placed in this record"


def test_a_suspected_cause_is_left_out_except_of_the_inpatient_view():
    record = small_record("lyme-suspected")
    for view in ("professional", "outpatient"):
        finding = only(record, "dx-lyme", view)
        assert finding.because == "suspected, not established"
    inpatient = only(record, "dx-lyme", "inpatient")
    assert inpatient.state == "missing"
    assert "discharge wording" in named(inpatient)[0]


def test_a_symptom_is_not_added_to_its_stated_diagnosis():
    finding = only(small_record("syncope-complete-block"), "dx-syncope")
    assert finding.because == "symptom of a stated diagnosis"


@pytest.mark.parametrize("name", ["potassium-high", "potassium-low", "cold"])
def test_a_value_alone_is_a_question_and_no_code(name):
    said = judge(RULES, grounds(small_record(name)))
    about = [f for f in said if f.rule.code and f.rule.system == "ICD-10-CM"]
    assert about == []
    rule = "dx-cold-value" if name == "cold" else "dx-k-value"
    finding = only(small_record(name), rule)
    assert (finding.state, finding.code) == ("missing", "")
    assert len(finding.questions) == 1


def test_a_listed_diagnosis_that_is_ruled_out_as_a_cause_is_asked_about():
    record = small_record("hyperkalaemia-ruled-out")
    record.says("finish.post_diagnosis", ["hyperkalaemia"])
    finding = only(record, "dx-k-high-listed")
    told = ["which stands: listed as a diagnosis, ruled out as a cause"]
    assert (finding.state, named(finding)) == ("missing", told)


def test_a_listed_diagnosis_is_told_once_beside_its_established_cause():
    record = small_record("hyperkalaemia")
    record.says("finish.post_diagnosis", ["hyperkalaemia"])
    said = judge(RULES, grounds(record))
    own = [f for f in said if f.code == "E87.5" and f.view == "professional"]
    assert [f.rule.id for f in own] == ["dx-k-high"]


def test_a_long_interval_is_never_a_diagnosis():
    assert found_any(small_record("long-qtc-only"), "dx-longqt") == []


@pytest.mark.parametrize("name", record_names())
def test_no_record_gives_two_candidates_that_exclude_each_other(name):
    # Source: Excludes1 notes of the April 2026 tabular list, PyPI simple-icd-10-cm.
    site = replace(CPT_ON, policies=site_of(name))
    said = judge(RULES, grounds(small_record(name), site=site))
    for view in VIEWS:
        codes = {
            f.rule.code
            for f in said
            if f.view == view
            and f.state == "candidate"
            and f.rule.code
            and f.rule.system == "ICD-10-CM"
        }
        for code in codes:
            assert not codes & excluded_beside(code)
