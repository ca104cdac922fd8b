"""Approach: site, scan, barrier, kit, puncture, guidewires and other lines."""

from __future__ import annotations

from webapp.catalogue.choices import SITES
from webapp.catalogue.declare import (
    OTHER,
    equals,
    group,
    many,
    moment,
    one,
    person,
    photo,
    pick,
    qty,
    text,
    within,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.approach_barrier import BARRIER, LOCAL, SEDATION
from webapp.catalogue.parts.approach_kit import KIT, WIRE
from webapp.catalogue.parts.shared_groups import BEGUN, SEPARATE_REPORT

_ULTRASOUND = within("approach.guidance", "real_time_ultrasound", "marked_ultrasound")

_GUIDANCE = pick(
    real_time_ultrasound="Real-time ultrasound",
    marked_ultrasound="Marked by ultrasound",
    landmarks="Landmarks",
    fluoroscopy="Fluoroscopy",
)

_LINE_TIPS = (
    *pick(
        superior_vena_cava="Superior vena cava",
        right_atrium="Right atrium",
        inferior_vena_cava="Inferior vena cava",
        internal_jugular="Internal jugular vein",
        subclavian="Subclavian vein",
        femoral="Femoral vein",
    ),
    OTHER,
)

SCAN = Section(
    "Scan and guidance",
    (
        many("sites_scanned", "Sites scanned before choosing", SITES, "C"),
        text("patency", "Chosen vein open, in words", "C"),
        yn("compressible", "Vein compressible", "C"),
        yn("thrombosis", "Thrombosis", "C"),
        person("scanned_by", "Scanned by", "C"),
        many("guidance", "Guidance", _GUIDANCE, "R C", asked_when=BEGUN),
        yn("needle_seen_live", "Needle entry seen live", "C", asked_when=_ULTRASOUND),
        yn("wire_seen_in_vein", "Guidewire seen in vein", "C", asked_when=_ULTRASOUND),
        yn("image_stored", "Image stored", "C", asked_when=_ULTRASOUND),
        photo("image_photo", "Photo of the image", asked_when=_ULTRASOUND),
        text("image_reference", "Archive reference", "C", asked_when=_ULTRASOUND),
        person("image_interpreter", "Image read by", "C", asked_when=_ULTRASOUND),
        yn("separate_report", "Separate signed report", "C", asked_when=_ULTRASOUND),
        group(
            "ultrasound_report",
            "Report on the ultrasound",
            "C",
            *SEPARATE_REPORT[1:],
            asked_when=equals("approach.separate_report", "yes"),
        ),
    ),
)

PUNCTURE = Section(
    "Puncture",
    (
        moment(
            "first_puncture",
            "First puncture",
            "N C",
            hint="The start of the procedure",
            asked_when=BEGUN,
        ),
        group(
            "attempts",
            "Attempt",
            "R",
            one("site", "Site and side", SITES),
            person("operator", "Operator"),
            qty("passes", "Passes"),
            one(
                "outcome",
                "Outcome",
                (
                    *pick(
                        vein_entered="Vein entered",
                        not_entered="Vein not entered",
                        artery_entered="Artery entered",
                        no_wire_passed="Guidewire would not pass",
                    ),
                    OTHER,
                ),
            ),
            asked_when=BEGUN,
        ),
        many(
            "venous_proof",
            "Venous position proven, before dilating",
            (
                *pick(
                    wire_seen="Guidewire seen in vein",
                    pressure_trace="Pressure trace",
                    manometry="Manometry",
                    blood_gas="Blood gas",
                    none="None",
                ),
                OTHER,
            ),
            "R",
            asked_when=BEGUN,
        ),
        moment("venous_proof_at", "Venous proof at", "R", asked_when=BEGUN),
        moment("dilator_at", "Dilator in at", "R", asked_when=BEGUN),
    ),
)

GUIDEWIRES = Section(
    "Guidewires",
    (
        qty("guidewires_opened", "Guidewires opened", needs="N5", asked_when=BEGUN),
        qty("guidewires_out", "Guidewires out", needs="N5", asked_when=BEGUN),
        moment("guidewire_in", "Guidewire in", asked_when=BEGUN),
        moment("dilator_out", "Dilator out", asked_when=BEGUN),
        moment("guidewire_out", "Guidewire out", asked_when=BEGUN),
    ),
)

LINES = Section(
    "Other lines",
    (
        group(
            "other_line",
            "Other line placed in this session",
            "C",
            one(
                "kind",
                "Kind",
                (
                    *pick(
                        central_venous="Central venous",
                        dialysis="Dialysis",
                        arterial="Arterial",
                        introducer_other_use="Introducer for another use",
                    ),
                    OTHER,
                ),
            ),
            one("site", "Site and side", SITES),
            qty("lumens", "Lumens"),
            one("tip_in", "Tip ends in", _LINE_TIPS, since=3),
            text("tip", "Tip where"),
            text("tip_confirmed", "Tip confirmed how"),
            text("purpose", "Purpose"),
            yn("separate_puncture", "Separate puncture"),
            many("guidance", "Guidance", _GUIDANCE),
            many("sites_scanned", "Sites scanned before choosing", SITES),
            text("patency", "Vein open, in words"),
            yn("needle_seen_live", "Needle entry seen live"),
            text("image_reference", "Archive reference"),
            person("operator", "Operator"),
            moment("start", "Start"),
            moment("stop", "Stop"),
            hint="The introducer for the wire is not one",
            stamped=False,
        ),
    ),
)

PART = Part(
    "approach",
    "Approach",
    (WIRE, SCAN, BARRIER, LOCAL, SEDATION, KIT, PUNCTURE, GUIDEWIRES, LINES),
)
