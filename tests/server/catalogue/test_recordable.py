"""Facts of eight published cases stand in the catalogue without bending one.

Sources, all openly readable: CR-01 hqmeded-ecg.blogspot.com 2015/07; CR-02 authorea.com
627799/648629; CR-03 Am J Case Rep 2022;23:e934600 and a public retelling; CR-04 Cardiol
Res 2012;3:34; CR-05 emdaily1.cooperhealth.org 2020-09-15; CR-06 Front Cardiovasc Med
2026, 1756548; CR-07 J Innov Card Rhythm Manag 2023;14:5369; CR-08 Heart 2005;91:459.
"""

from __future__ import annotations

from typing import Any

import pytest

from webapp.catalogue import CATALOGUE
from webapp.catalogue.kinds import check, parse

WHO = {"person": None, "name": "Ambulance crew", "role": "other", "credential": ""}
SECOND_DAY = {"as": "second day", "certainty": "unreadable"}
NOT_KNOWN = {"absent": "not_known"}
NOT_STATED = {"absent": "not_known", "not_stated_by": "published report"}

# case, path, value told: typed text, (text, unit), a list, an absence, or a row.
FACTS: list[tuple[str, str, Any, str]] = [
    ("CR-01", "patient.start", "start_now", "ok"),
    ("CR-01", "patient.age_class", "elderly_adult", "ok"),
    ("CR-01", "patient.birth_date", NOT_STATED, "absent"),
    ("CR-01", "indication.rhythm_certainty", "told", "ok"),
    ("CR-01", "indication.observations", {"heart_rate": ("20-30", "/min")}, "ok"),
    ("CR-01", "indication.observations", {"heart_rate": ("20-40", "/min")}, "ok"),
    ("CR-01", "indication.compromise", ["shock", "altered_mental_state"], "ok"),
    (
        "CR-01",
        "indication.drugs_given",
        {"drug": "atropine", "dose": NOT_STATED, "effect": "none"},
        "ok",
    ),
    (
        "CR-01",
        "indication.skin_pacing_reading",
        {"mechanical": "yes", "judged_how": ["pulse"], "by": WHO},
        "ok",
    ),
    (
        "CR-01",
        "indication.skin_pacing_reading",
        {
            "electrical": "no",
            "mechanical": "no",
            "judged_how": ["ultrasound"],
            "output": ("maximum", "mA"),
        },
        "ok",
    ),
    ("CR-02", "indication.main_rhythm", "complete_av_block", "ok"),
    ("CR-02", "indication.infarct", "st_elevation", "ok"),
    ("CR-02", "indication.infarct_vessel", "right_coronary", "ok"),
    ("CR-02", "indication.compromise", ["none"], "ok"),
    ("CR-02", "indication.urgency", "urgent", "ok"),
    (
        "CR-02",
        "indication.observations",
        {"heart_rate": ("40-45", "/min"), "systolic": "140", "diastolic": "90"},
        "ok",
    ),
    ("CR-02", "finish.larger_procedure_which", ["coronary_intervention"], "ok"),
    (
        "CR-02",
        "checks.own_rhythm",
        {"result": "rhythm", "rhythm": "first_degree_av_block", "pr": ("280", "ms")},
        "ok",
    ),
    ("CR-02", "checks.check", {"still_needed": "no"}, "ok"),
    ("CR-03", "patient.laboratory", {"potassium": ("7.3", "mg/dL")}, "soft"),
    ("CR-03", "patient.laboratory", {"creatinine": ("3.7", "mg/dL")}, "ok"),
    ("CR-03", "patient.temperature", ("35.6", "Cel"), "ok"),
    ("CR-03", "patient.kidney_disease", {"stage": "stage_3", "source": "a"}, "ok"),
    ("CR-03", "patient.kidney_disease", {"stage": "stage_4", "source": "b"}, "ok"),
    (
        "CR-03",
        "indication.cause",
        {"cause": "hyperkalaemia", "certainty": "established"},
        "ok",
    ),
    (
        "CR-03",
        "indication.drug_cause",
        {"drug": "atenolol", "drug_class": "beta_blocker", "intent": NOT_KNOWN},
        "ok",
    ),
    ("CR-03", "indication.background", {"condition": "hypertension"}, "ok"),
    (
        "CR-03",
        "indication.drugs_given",
        {"drug": "fluid", "dose": ("20", "mL/kg")},
        "ok",
    ),
    ("CR-04", "indication.main_rhythm", "torsades_bradycardia", "ok"),
    ("CR-04", "indication.with_rhythms", ["vt_svt_overdrive"], "ok"),
    ("CR-04", "patient.laboratory", {"potassium": ("low", "mmol/L")}, "ok"),
    ("CR-04", "patient.laboratory", {"magnesium": ("low", "mmol/L")}, "ok"),
    ("CR-04", "capture.target_rate", {"rate": ("100", "/min"), "because": "x"}, "ok"),
    (
        "CR-04",
        "capture.rhythm_again",
        {"rhythm": "torsades", "rate_then": ("100", "/min")},
        "ok",
    ),
    ("CR-05", "patient.temperature", "98.8", "impossible"),
    ("CR-05", "patient.blood_thinner", {"drug": "warfarin"}, "ok"),
    ("CR-05", "indication.with_rhythms", ["af", "ventricular_escape"], "ok"),
    ("CR-05", "indication.escape_rate", ("30", "/min"), "ok"),
    ("CR-05", "indication.compromise", ["syncope"], "ok"),
    ("CR-05", "indication.skin_pacing", {"state": "ready_not_pacing"}, "ok"),
    ("CR-05", "indication.pads", {"state": NOT_STATED}, "ok"),
    ("CR-05", "advance.p_waves", "none", "ok"),
    ("CR-05", "finish.outcome", "not_started", "ok"),
    ("CR-06", "indication.af_type", "permanent", "ok"),
    ("CR-06", "approach.site", "internal_jugular_right", "ok"),
    (
        "CR-06",
        "advance.depth_reading",
        {"depth": ("45", "cm"), "result": "no_capture", "read_how": NOT_STATED},
        "ok",
    ),
    ("CR-06", "advance.resistance", {"depth": ("45", "cm")}, "ok"),
    ("CR-06", "finish.outcome", "given_up_cannot_remove", "ok"),
    ("CR-06", "finish.complication", {"kind": "knot_coil", "cause": NOT_KNOWN}, "ok"),
    ("CR-06", "removal.event", "elsewhere", "ok"),
    ("CR-06", "removal.site", "femoral", "ok"),
    ("CR-06", "removal.completed", "snared_elsewhere", "ok"),
    ("CR-06", "removal.ending", "removed_elsewhere", "ok"),
    ("CR-07", "approach.wire_came", "exchanged_here", "ok"),
    ("CR-07", "approach.wire_kind", "active_fixation", "ok"),
    (
        "CR-07",
        "indication.cause",
        {"cause": "lyme_carditis", "certainty": "suspected"},
        "ok",
    ),
    ("CR-07", "capture.output_reading", {"output_v": ("0.8", "V")}, "ok"),
    ("CR-07", "capture.threshold_test", {"pulse_width": ("0.4", "ms")}, "ok"),
    ("CR-07", "finish.check_interval", ("3", "d"), "ok"),
    ("CR-07", "finish.destination", "home", "ok"),
    ("CR-07", "removal.ending", "home_externalised", "ok"),
    ("CR-08", "approach.site", "femoral_right", "ok"),
    ("CR-08", "finish.complications_line", {"none_seen": "yes"}, "ok"),
    (
        "CR-08",
        "finish.complication",
        {"kind": "perforation", "when_seen": "after", "cause": "cannot_tell"},
        "ok",
    ),
    (
        "CR-08",
        "finish.complication",
        {"kind": "tamponade", "moment": {"day": "2005-04-02", "certainty": "day"}},
        "ok",
    ),
    (
        "CR-08",
        "checks.check",
        {"chest_pain": "yes", "moment": SECOND_DAY},
        "impossible",
    ),
    ("CR-08", "removal.site", "open_chest", "ok"),
]


def _value(path: str, told: Any) -> Any:
    field = CATALOGUE.field(path)
    assert field is not None, path
    if isinstance(told, str):
        return parse(field, told)
    if isinstance(told, tuple):
        return parse(field, told[0], told[1])
    if not isinstance(told, dict) or field.kind != "group" or "absent" in told:
        return told
    row = {}
    for name, said in told.items():
        child = field.child(name)
        assert child is not None, f"{path}.{name}"
        if isinstance(said, str):
            row[name] = parse(child, said, child.unit or None)
        elif isinstance(said, tuple):
            row[name] = parse(child, said[0], said[1])
        else:
            row[name] = said
    parent = {"of": "01966d2c-1111-7abc-8def-0123456789ab"} if field.row_of else {}
    return {**parent, **row}


@pytest.mark.parametrize(
    ("case", "path", "told", "state"),
    FACTS,
    ids=[f"{case}-{path}" for case, path, _, _ in FACTS],
)
def test_a_published_fact_can_be_recorded_as_told(
    case: str, path: str, told: Any, state: str
) -> None:
    field = CATALOGUE.field(path)
    assert field is not None
    assert check(field, _value(path, told)).state == state


def test_a_choice_of_no_list_is_not_taken_for_a_fact() -> None:
    field = CATALOGUE.field("finish.outcome")
    assert field is not None
    assert check(field, "went_well").state == "illegal"
