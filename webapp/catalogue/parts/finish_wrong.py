"""Finish: complications, blood loss, specimens, implants, equipment faults."""

from __future__ import annotations

from webapp.catalogue.choices import LEFT_OR_RIGHT
from webapp.catalogue.declare import (
    OTHER,
    equals,
    group,
    many,
    moment,
    one,
    person,
    pick,
    prose,
    qty,
    text,
    yn,
)
from webapp.catalogue.model import Section
from webapp.catalogue.parts.shared_groups import AWAITED

COMPLICATIONS = (
    *pick(
        arterial_puncture="Arterial puncture",
        bleeding_haematoma="Bleeding or haematoma",
        pneumothorax="Pneumothorax",
        haemothorax="Haemothorax",
        air_embolism="Air embolism",
        vt_vf="VT / VF",
        new_block_asystole="New block or asystole",
        perforation="Perforation",
        tamponade="Tamponade",
        misplacement="Misplacement",
        knot_coil="Knot or coil",
        failure_to_capture="Failure to capture",
        displacement="Displacement",
        diaphragm_pacing="Diaphragm pacing",
        nerve_injury="Nerve injury",
        anaesthetic_toxicity="Anaesthetic toxicity",
        retained_wire="Guidewire left behind",
        infection="Infection",
        thrombosis="Thrombosis",
    ),
    OTHER,
)

_RESCUES = (
    *pick(
        needle_drainage="Needle drainage of the pericardium",
        chest_tube="Chest tube",
        cpr="CPR",
        cardioversion="Cardioversion",
        intubation="Intubation",
    ),
    OTHER,
)

WRONG = Section(
    "Complications and loss",
    (
        group(
            "complications_line",
            "Complications line",
            "N8 C H",
            yn("none_seen", "None seen"),
            moment("up_to", "Up to"),
            person("by", "By"),
            text("how", "How looked for"),
            many("awaited", "Still awaited", AWAITED),
            stamped=False,
        ),
        group(
            "complication",
            "Complication",
            "C",
            one("kind", "Kind", COMPLICATIONS),
            one(
                "when_seen",
                "During or after",
                pick(during="During", after="After"),
            ),
            one(
                "cause",
                "Cause as stated",
                pick(
                    due_to_procedure="Due to this procedure",
                    expected_inherent="Expected or inherent",
                    other_cause="Other cause",
                    cannot_tell="Cannot tell",
                ),
            ),
            person("cause_by", "Cause stated by"),
            text("severity", "How severe"),
            prose("treated", "Treated how"),
            prose("outcome", "Outcome"),
            yn("significant", "Clinically significant"),
            text("told_to", "Told to"),
            person("told_by", "Told by"),
            moment("told_at", "Told when"),
            one(
                "order_timing",
                "Against the inpatient order",
                pick(
                    before="Before the order",
                    after="After the order",
                    no_order="No inpatient order",
                ),
            ),
        ),
        group(
            "rescue",
            "Rescue procedure",
            "",
            one("what", "What", _RESCUES),
            one(
                "side",
                "Side",
                LEFT_OR_RIGHT,
                asked_when=equals("row.what", "chest_tube"),
            ),
            yn(
                "drain_left",
                "Drain left in",
                asked_when=equals("row.what", "needle_drainage"),
            ),
            person("operator", "Operator"),
            yn("own_note", "Own signed note"),
            text("reference", "Where that note stands"),
            since=3,
        ),
        one(
            "blood_loss",
            "Blood loss",
            pick(
                minimal="Minimal",
                about_10="About 10 mL",
                about_50="About 50 mL",
                other_amount="Other amount",
            ),
            "N",
        ),
        qty(
            "blood_loss_ml",
            "Blood loss in mL",
            "mL",
            "1",
            "N",
            asked_when=equals("finish.blood_loss", "other_amount"),
        ),
        yn("specimens", "Specimens taken", "N"),
        text(
            "specimens_what",
            "Which specimens",
            "N",
            asked_when=equals("finish.specimens", "yes"),
        ),
        yn("implants", "Implants", "N"),
        text(
            "implants_what",
            "Which implants",
            "N",
            asked_when=equals("finish.implants", "yes"),
        ),
        group(
            "equipment_fault",
            "Equipment fault",
            "",
            prose("what", "What"),
            text("asset", "Asset or lot"),
            text("swapped_with", "Swapped with"),
            yn("put_aside", "Put aside for examination"),
            text("report_number", "Report number"),
        ),
    ),
)
