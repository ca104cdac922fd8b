"""Choice lists that more than one part uses.

Codes: ICD-10-CM FY2026 April release, each checked to be a billable leaf, and only
where the answer maps to exactly one code (PyPI simple-icd-10-cm 1.5.0). A rhythm
that needs a further question ("high-grade", "sinus arrest") carries none.
"""

from __future__ import annotations

from webapp.catalogue.declare import OTHER, choice, pick
from webapp.catalogue.model import Choice

RHYTHMS = (
    choice("complete_av_block", "Complete AV block", "I44.2"),
    choice("second_degree_type_2", "Second-degree AV block, type II", "I44.1"),
    choice("second_degree_type_1", "Second-degree AV block, type I", "I44.1"),
    choice("high_grade_av_block", "High-grade AV block"),
    choice("sinus_bradycardia", "Sinus bradycardia", "R00.1"),
    choice("sinus_arrest", "Sinus arrest or pauses"),
    choice("junctional", "Junctional rhythm"),
    choice("ventricular_escape", "Ventricular escape"),
    choice("af_slow", "AF with slow ventricular response"),
    choice("asystole", "Asystole"),
    choice("alternating_bundle_branch_block", "Alternating bundle branch block"),
    choice("bifascicular_first_degree", "New bifascicular with first-degree block"),
    choice("torsades_bradycardia", "Bradycardia-dependent torsades", "I47.21"),
    choice("vt_svt_overdrive", "VT or SVT for overdrive"),
    choice("permanent_system_failure", "Permanent system failure"),
)
STANDBY = choice("standby", "None yet (standby)")
FURTHER_RHYTHMS = (
    choice("af", "Atrial fibrillation"),
    choice("flutter", "Atrial flutter", "I48.92"),
    choice("first_degree_av_block", "First-degree AV block", "I44.0"),
    choice("right_bundle_branch_block", "Right bundle branch block", "I45.10"),
    choice("left_bundle_branch_block", "Left bundle branch block", "I44.7"),
    choice("sick_sinus", "Sick sinus syndrome", "I49.5"),
    choice("long_qt", "Long QT, stated as a diagnosis", "I45.81"),
)
# What a rhythm looks like once pacing is turned down or the need is over.
OWN_RHYTHMS = (
    choice("sinus_rhythm", "Sinus rhythm"),
    *FURTHER_RHYTHMS[:5],
    *RHYTHMS[:9],
    OTHER,
)

CERTAINTY = pick(
    established="Established",
    suspected="Suspected",
    ruled_out="Ruled out",
    not_known="Not known",
)

STATED_CAUSES = (
    choice("hyperkalaemia", "Hyperkalaemia", "E87.5"),
    choice("hypokalaemia", "Hypokalaemia", "E87.6"),
    choice("hypomagnesaemia", "Hypomagnesaemia", "E83.42"),
    choice("hypothermia", "Hypothermia", "T68.XXXA"),
    choice("myxoedema_coma", "Myxoedema coma", "E03.5"),
    choice("kidney_injury", "Acute kidney injury", "N17.9"),
    choice("lyme_carditis", "Lyme carditis", "A69.29"),
    choice("myocarditis", "Myocarditis, not Lyme"),
    choice("endocarditis", "Endocarditis"),
    choice("sarcoid", "Sarcoid of the heart", "D86.85"),
)
CAUSES = (
    choice("acute_infarct", "Acute infarct"),
    choice("beta_blocker", "Beta-blocker"),
    choice("calcium_channel_blocker", "Calcium-channel blocker"),
    choice("digoxin", "Digoxin"),
    choice("other_drug", "Other drug"),
    *STATED_CAUSES,
    choice("after_cardiac_surgery", "After cardiac surgery"),
    choice("after_valve_implant", "After valve implant"),
    choice("conduction_disease", "Conduction disease"),
    choice("device_failure", "Device failure"),
    OTHER,
)

# The words of the diagnosis before and after the procedure.
DIAGNOSES = (
    *RHYTHMS,
    *FURTHER_RHYTHMS,
    choice("syncope", "Syncope", "R55"),
    choice("acute_infarct", "Acute infarct"),
    *STATED_CAUSES,
    OTHER,
)

SITES = (
    *pick(
        internal_jugular_right="Internal jugular, right",
        internal_jugular_left="Internal jugular, left",
        subclavian_infraclavicular_right="Subclavian below the clavicle, right",
        subclavian_infraclavicular_left="Subclavian below the clavicle, left",
        subclavian_supraclavicular_right="Subclavian above the clavicle, right",
        subclavian_supraclavicular_left="Subclavian above the clavicle, left",
        axillary_right="Axillary, right",
        axillary_left="Axillary, left",
        femoral_right="Femoral, right",
        femoral_left="Femoral, left",
        arm_right="Arm, right",
        arm_left="Arm, left",
        umbilical="Umbilical",
        existing_sheath="Existing sheath",
    ),
    OTHER,
)
REMOVAL_SITES = (
    *SITES[:-1],
    Choice("femoral", "Femoral, side not known", since=3),
    *pick(open_chest="Open chest"),
    OTHER,
)

CHAMBERS = (
    *pick(
        rv="Right ventricle",
        ra="Right atrium",
        cs_lv="Coronary sinus or left ventricle",
        not_known="Not known",
    ),
    OTHER,
)

PLACES = (
    *pick(
        emergency_room="Emergency room",
        intensive_care="Intensive care",
        coronary_care="Coronary care",
        procedure_room="Procedure room",
        ward="Ward",
        theatre="Theatre",
        transport="Transport",
    ),
    OTHER,
)

ROLES = (
    *pick(
        operator="Operator",
        supervisor="Supervisor",
        assistant="Assistant",
        sedation_watcher="Sedation watcher",
        nurse="Nurse",
    ),
    OTHER,
)

PARTS = pick(
    indication="Indication",
    consent="Consent",
    approach="Approach",
    advance="Advance",
    capture="Capture",
    finish="Finish",
)

READ_AT = pick(
    sheath_hub="Sheath hub",
    sleeve_lock="Sleeve lock",
    skin="Skin",
)
READ_HOW = pick(
    on_ring="On a ring",
    estimated="Estimated",
    ruler="Ruler from hub to next ring",
)

BALLOON = pick(
    up="Up",
    down="Down",
    some_left="About x mL left",
    not_balloon="Not a balloon wire",
    not_known="Not known",
)

PADS = pick(
    none="None",
    on_not_connected="On, not connected",
    connected_ready="Connected, pacing mode ready",
    pacing_now="Pacing now",
)

LEVELS = pick(
    alert="Alert",
    voice="Answers to voice",
    pain="Answers to pain",
    unresponsive="Unresponsive",
)

ANSWERED = pick(
    one_by_one="One by one",
    all_at_once="All at once",
)

CAPTURE_RESULTS = pick(
    captures="Captures",
    no_capture="No capture",
    cannot_tell="Can't tell",
)

MECHANICAL_SIGNS = (
    *pick(
        pulse="Pulse felt",
        pleth="Pleth",
        arterial_line="Arterial line",
        ultrasound="Ultrasound",
        none="None seen",
    ),
    OTHER,
)

SEEN_BY = pick(
    awaited="Awaited",
    seen_by_me="Seen by me",
    reported="Reported by",
)

LEFT_OR_RIGHT = pick(right="Right", left="Left")
