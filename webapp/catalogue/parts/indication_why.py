"""Indication: the rhythm, what it does to the patient, and what causes it."""

from __future__ import annotations

from webapp.catalogue.choices import (
    CAUSES,
    CERTAINTY,
    DIAGNOSES,
    FURTHER_RHYTHMS,
    RHYTHMS,
    STANDBY,
)
from webapp.catalogue.declare import (
    OTHER,
    choice,
    equals,
    every,
    group,
    has,
    many,
    moment,
    one,
    person,
    pick,
    prose,
    qty,
    some,
    text,
    unless,
    within,
    yn,
)
from webapp.catalogue.model import Section

_HAS_AF = some(
    equals("indication.main_rhythm", "af_slow"),
    within("indication.with_rhythms", "af", "af_slow"),
)
_HAS_RHYTHM = unless(equals("indication.main_rhythm", "standby"))
_INFARCT = every(
    has("indication.infarct"), unless(equals("indication.infarct", "none"))
)

RHYTHM = Section(
    "Rhythm",
    (
        one(
            "main_rhythm",
            "Main rhythm",
            (*RHYTHMS, STANDBY, OTHER),
            "N2 C",
        ),
        many("with_rhythms", "With", (*RHYTHMS, *FURTHER_RHYTHMS, OTHER), "C"),
        person("stated_by", "Stated by", "C", asked_when=_HAS_RHYTHM),
        one(
            "rhythm_certainty",
            "Seen or told",
            pick(
                seen_12_lead="Seen on 12-lead",
                seen_monitor="Seen on the monitor",
                told="Told (crew, other hospital)",
            ),
            "C",
            asked_when=_HAS_RHYTHM,
        ),
        text(
            "rhythm_told_by",
            "Told by whom",
            asked_when=equals("indication.rhythm_certainty", "told"),
        ),
        one(
            "af_type",
            "Type of atrial fibrillation",
            (
                choice("paroxysmal", "Paroxysmal", "I48.0"),
                choice("persistent", "Persistent", "I48.19"),
                choice("long_standing", "Long-standing persistent", "I48.11"),
                choice("permanent", "Permanent", "I48.21"),
                choice("unspecified", "Unspecified", "I48.91"),
            ),
            "C",
            asked_when=_HAS_AF,
        ),
        one(
            "escape_qrs",
            "Escape QRS",
            pick(narrow="Narrow", wide="Wide", none="No escape"),
            asked_when=_HAS_RHYTHM,
        ),
        qty(
            "escape_rate",
            "Escape rate",
            "/min",
            hard="0..350",
            asked_when=_HAS_RHYTHM,
        ),
        qty("qtc", "QTc", "ms", hard="100..1000"),
        text("qtc_formula", "QTc formula", asked_when=has("indication.qtc")),
        qty("pr", "PR", "ms", hard="100..1000"),
    ),
)

EFFECT = Section(
    "What it does",
    (
        many(
            "compromise",
            "Compromise",
            (
                choice("hypotension", "Hypotension", "I95.9"),
                choice("altered_mental_state", "Altered mental state"),
                choice("ischaemic_pain", "Ischaemic pain"),
                choice("acute_heart_failure", "Acute heart failure"),
                choice("shock", "Shock", "R57.9"),
                choice("syncope", "Syncope", "R55"),
                choice("arrest", "Arrest"),
                choice("none", "None"),
                OTHER,
            ),
            "N2",
        ),
        text(
            "shock_type",
            "Kind of shock, as stated",
            asked_when=equals("indication.compromise", "shock"),
        ),
        one(
            "urgency",
            "Urgency",
            pick(emergency="Emergency", urgent="Urgent", planned="Planned"),
            "N",
        ),
        prose("why_now", "Why now"),
        prose("alternatives", "Alternatives"),
        many("pre_diagnosis", "Diagnosis before the procedure", DIAGNOSES, "N C"),
    ),
)

_DRUG_CLASSES = (
    *pick(
        beta_blocker="Beta-blocker",
        calcium_channel_blocker="Calcium-channel blocker",
        digoxin="Digoxin",
        other_antiarrhythmic="Other antiarrhythmic",
        other_antihypertensive="Other antihypertensive",
        macrolide="Macrolide antibiotic",
        other_antibiotic="Other antibiotic",
        cholinergic="Cholinergic",
        cocaine="Cocaine",
    ),
    OTHER,
)

CAUSE = Section(
    "Cause",
    (
        group(
            "cause",
            "Cause",
            "C",
            one("cause", "Cause", CAUSES),
            one("certainty", "Certainty", CERTAINTY),
            person("stated_by", "Stated by"),
            hint="One row for each; a combination is several rows",
        ),
        group(
            "drug_cause",
            "Drug as a cause",
            "C",
            text("drug", "Drug"),
            one("drug_class", "Kind of drug", _DRUG_CLASSES),
            one(
                "intent",
                "How it was taken",
                pick(
                    as_prescribed="As prescribed",
                    wrong_dose_or_drug="Wrong dose or drug",
                    deliberate="Deliberate",
                    by_another="By another",
                    underdosed="Underdosed",
                    not_known="Not known",
                ),
            ),
            text("dose", "Dose"),
            moment("taken_at", "Taken when"),
        ),
        one(
            "infarct",
            "Infarct",
            (
                choice("none", "None"),
                choice("st_elevation", "ST-elevation"),
                choice("non_st_elevation", "Non-ST-elevation", "I21.4"),
                choice("type_2", "Type 2", "I21.A1"),
                OTHER,
            ),
            "C",
        ),
        one(
            "infarct_vessel",
            "Vessel",
            (
                *pick(
                    left_main="Left main",
                    lad="Left anterior descending",
                    right_coronary="Right coronary",
                    circumflex="Circumflex",
                    not_known="Not known",
                ),
                OTHER,
            ),
            "C",
            asked_when=_INFARCT,
        ),
        one(
            "infarct_territory",
            "Territory",
            (
                *pick(
                    anterior="Anterior",
                    inferior="Inferior",
                    lateral="Lateral",
                    posterior="Posterior",
                    right_ventricle="Right ventricle",
                    not_known="Not known",
                ),
                OTHER,
            ),
            "C",
            asked_when=_INFARCT,
        ),
        moment("infarct_onset", "Onset", "C", asked_when=_INFARCT),
        yn(
            "infarct_within_4_weeks",
            "Another infarct in the 4 weeks before",
            "C",
            asked_when=_INFARCT,
        ),
        group(
            "background",
            "Other diagnoses, as stated",
            "C",
            one(
                "condition",
                "Diagnosis",
                (
                    choice("hypertension", "Hypertension"),
                    choice("heart_failure", "Heart failure"),
                    choice("coronary_disease", "Coronary disease"),
                    choice("mitral_regurgitation", "Mitral regurgitation"),
                    choice("tricuspid_regurgitation", "Tricuspid regurgitation"),
                    choice("diabetes", "Diabetes"),
                    choice("liver_disease", "Liver disease"),
                    choice(
                        "long_term_anticoagulant", "Long-term anticoagulant", "Z79.01"
                    ),
                    choice("delirium", "Delirium", "R41.0"),
                    OTHER,
                ),
            ),
            one(
                "valve_origin",
                "Rheumatic or not",
                pick(
                    rheumatic="Rheumatic",
                    not_rheumatic="Not rheumatic",
                    not_stated="Not stated",
                ),
                since=3,
                asked_when=within(
                    "row.condition", "mitral_regurgitation", "tricuspid_regurgitation"
                ),
            ),
            text("detail", "Detail"),
            one("certainty", "Certainty", CERTAINTY),
            person("stated_by", "Stated by"),
        ),
    ),
)
