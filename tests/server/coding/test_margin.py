"""Every finding hangs in the margin once, beside the field it rests on."""

from __future__ import annotations

import pytest

from tests.support.records import record_names, small_record
from webapp.coding.margin import going_out, is_to_be_checked, margin_of
from webapp.coding.rules import load_rules
from webapp.coding.sheet import Sheet, make_judge
from webapp.coding.site import SiteCoding
from webapp.coding.tables import load_tables

SITE = SiteCoding(zone="America/New_York", switches=frozenset(["cpt_enabled"]))
JUDGE = make_judge(load_rules(), load_tables(), SITE)


def sheet(name: str) -> Sheet:
    return JUDGE.sheet(small_record(name).case)


@pytest.mark.parametrize("name", record_names())
def test_no_finding_is_lost_and_none_hangs_twice(name):
    judged = sheet(name)
    for view in judged.views:
        margin = margin_of(judged, view)
        hung = [flag.finding for flag in margin.flags]
        shown = [flag for p in margin.parts for s in p.strips for flag in s.flags]
        assert [flag.number for flag in shown] == list(range(1, len(hung) + 1))
        # A place that is settled stands with the status at the head of the page.
        own = [
            f
            for f in judged.of_view(view)
            if f.rule.system != "POS" or f.state == "missing"
        ]
        expected = [f for f in own if not is_to_be_checked(f)]
        assert sorted(map(id, hung)) == sorted(map(id, expected))
        assert len(margin.folded) == len(own) - len(hung)


def test_a_flag_hangs_beside_the_answer_it_rests_on():
    margin = margin_of(sheet("complete-block"), "professional")
    part = next(p for p in margin.parts if p.name == "indication")
    (strip,) = [s for s in part.strips if s.flags]
    assert [fact.words for fact in strip.facts] == ["Complete AV block"]
    assert [(f.kind, f.finding.code) for f in strip.flags] == [("full", "I44.2")]


def test_a_question_on_the_place_hangs_beside_the_status():
    margin = margin_of(sheet("complete-block"), "professional")
    part = next(p for p in margin.parts if p.name == "patient")
    (strip,) = [s for s in part.strips if s.flags]
    assert strip.facts[0].label == "Patient status at the time"
    assert [f.finding.rule.id for f in strip.flags] == ["pos-status"]


def test_a_settled_place_is_told_at_the_head_and_hangs_nowhere():
    judged = sheet("status-emergency")
    assert judged.place_of_service == "23"
    margin = margin_of(judged, "professional")
    assert not [f for f in margin.flags if f.finding.rule.system == "POS"]


def test_a_missing_word_stands_under_its_flag():
    margin = margin_of(sheet("stemi-rca-no-onset"), "professional")
    flag = next(f for f in margin.flags if f.finding.rule.id == "dx-infarct-rca")
    assert flag.under == "onset, for the four-week rule"
    assert flag.under in margin.not_recorded


def test_a_reason_stands_under_a_crossed_flag():
    margin = margin_of(sheet("rhythm-none-yet"), "professional")
    flag = next(f for f in margin.flags if f.kind == "not")
    assert flag.under == "nothing placed in this record"


def test_diagnoses_go_out_before_procedures_and_refusals_do_not():
    margin = margin_of(sheet("wire-one"), "professional")
    out = [flag.finding.rule.id for flag in going_out(margin)]
    assert out == ["px-wire-one-chamber"]
    record = small_record("wire-one")
    record.says("finish.post_diagnosis", ["complete_av_block"])
    later = margin_of(JUDGE.sheet(record.case), "professional")
    rules = [flag.finding.rule.id for flag in going_out(later)]
    assert rules == ["dx-avb-3", "px-wire-one-chamber"]


def test_rules_to_be_checked_are_folded_away():
    margin = margin_of(sheet("sinus-arrest"), "professional")
    assert [f.rule.id for f in margin.folded] == ["dx-sinus-arrest"]
