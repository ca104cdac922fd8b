"""Removal, and how the record of a wire ends."""

from __future__ import annotations

from webapp.catalogue.choices import LEFT_OR_RIGHT, OWN_RHYTHMS, PADS, REMOVAL_SITES
from webapp.catalogue.declare import (
    OTHER,
    equals,
    group,
    has,
    moment,
    one,
    per_wire,
    person,
    pick,
    prose,
    qty,
    text,
    within,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.shared_groups import VITALS

_HAPPENS = has("removal.event")
_COMES_OUT = within("removal.event", "removal_here", "found_out", "elsewhere")
_HERE = equals("removal.event", "removal_here")
_PERMANENT = equals("removal.ending", "removed_permanent_system")
_LEFT = equals("removal.ending", "left_with_patient")
_DIED = equals("removal.ending", "died_wire_in")

BEFORE = Section(
    "Before removal",
    per_wire(
        one(
            "event",
            "What happens with this wire",
            pick(
                removal_here="Removal here",
                found_out="Found pulled out",
                elsewhere="Removed elsewhere",
                leaves_with_patient="Leaves with the patient",
                died="Died with the wire in",
                care_withdrawn="Care withdrawn",
            ),
            hint="The questions below follow from it",
        ),
        person("ordered_by", "Ordered by", "N", asked_when=_HERE),
        text("why", "Why", "N", asked_when=_COMES_OUT),
        person("removed_by", "Removed by", "N", asked_when=_COMES_OUT),
        moment("removed_at", "Removed at", "N", asked_when=_COMES_OUT),
        one("own_rhythm", "Own rhythm before", OWN_RHYTHMS, asked_when=_COMES_OUT),
        qty(
            "own_rate",
            "Own rate before",
            "/min",
            hard="0..350",
            asked_when=_COMES_OUT,
        ),
        qty("without_pacing", "Time without pacing", "h d", asked_when=_COMES_OUT),
        qty("inr", "INR", "", "0.1", hard="0.5..30", asked_when=_COMES_OUT),
        qty("platelets", "Platelets", "10*9/L", hard="0..6000", asked_when=_COMES_OUT),
        one("pads", "Pads", PADS, asked_when=_COMES_OUT),
        yn("permanent_leads", "Permanent leads present", asked_when=_COMES_OUT),
        yn("under_fluoroscopy", "Under fluoroscopy", asked_when=_COMES_OUT),
    ),
)

OUT = Section(
    "Removal",
    per_wire(
        yn("balloon_down", "Balloon fully down", "R", asked_when=_HERE),
        yn("syringe_empty", "Syringe drawn back empty", "R", asked_when=_HERE),
        text("position", "Position", "R", asked_when=_HERE),
        yn("breath_hold", "Breath-hold", "R", asked_when=_HERE),
        yn("resistance", "Resistance", "N", asked_when=_COMES_OUT),
        yn("tip_complete", "Tip complete", "N", asked_when=_COMES_OUT),
        yn("electrodes_complete", "Electrodes complete", "N", asked_when=_COMES_OUT),
        yn("length_complete", "Length complete", "N", asked_when=_COMES_OUT),
        one(
            "completed",
            "Completed",
            (
                *pick(
                    completed="Completed",
                    knot="Knot",
                    entrapment="Entrapment",
                    surgery="Surgery",
                    snared_elsewhere="Snared elsewhere",
                    pulled_out="Pulled out",
                ),
                OTHER,
            ),
            asked_when=_COMES_OUT,
        ),
        one("site", "Came out at", REMOVAL_SITES, asked_when=_COMES_OUT),
        group(
            "operators",
            "Who else removed it",
            "",
            person("person", "Person"),
            text("where", "Where"),
            asked_when=_COMES_OUT,
        ),
        prose("how", "How, in words", asked_when=_COMES_OUT),
        one(
            "sheath",
            "Sheath",
            pick(out="Out", left="Left"),
            asked_when=_COMES_OUT,
        ),
        qty("pressure", "Pressure held", "min", asked_when=_COMES_OUT),
        one(
            "dressing",
            "Dressing",
            (*pick(occlusive="Occlusive", gauze="Gauze", none="None"), OTHER),
            asked_when=_COMES_OUT,
        ),
        one(
            "bleeding",
            "Bleeding",
            (*pick(none="None", ooze="Ooze", haematoma="Haematoma"), OTHER),
            asked_when=_COMES_OUT,
        ),
        group(
            "after",
            "After removal",
            "",
            qty("after_min", "After", "min h"),
            one("rhythm", "Rhythm", OWN_RHYTHMS),
            qty("rate", "Rate", "/min", hard="0..350"),
            qty("pr", "PR", "ms", hard="100..1000"),
            *VITALS[:2],
            yn("pain", "Pain"),
            text("site", "Site"),
            asked_when=_COMES_OUT,
            hint="At 15, 30, 60 min, then to 4 h",
        ),
    ),
)

ENDING = Section(
    "How the record ends",
    per_wire(
        one(
            "ending",
            "Ending of the record",
            pick(
                removed_rhythm_back="Removed, rhythm back",
                removed_permanent_system="Removed after permanent system",
                replaced="Replaced by another wire",
                left_with_patient="Left with the patient to another hospital",
                home_externalised="Home with externalised lead",
                pulled_out="Pulled out",
                removed_elsewhere="Surgical or catheter removal elsewhere",
                died_wire_in="Died with wire in",
                care_withdrawn="Care withdrawn",
            ),
            "N",
            asked_when=_HAPPENS,
        ),
        moment("ended_at", "Ended at", asked_when=has("removal.ending")),
        moment("permanent_at", "Permanent system on", asked_when=_PERMANENT),
        one("permanent_side", "Side", LEFT_OR_RIGHT, asked_when=_PERMANENT),
        text("permanent_kind", "Kind of system", asked_when=_PERMANENT),
        text(
            "replaced_by",
            "Replaced by which wire",
            asked_when=equals("removal.ending", "replaced"),
        ),
        text("left_hospital", "Hospital", asked_when=_LEFT),
        person("left_accepted_by", "Accepted by", asked_when=_LEFT),
        yn("coroner", "Left in for coroner or examiner", asked_when=_DIED),
        person("generator_off_by", "Generator off by", asked_when=_DIED),
        moment("generator_off_at", "Generator off at", asked_when=_DIED),
    ),
)

PART = Part("removal", "Removal", (BEFORE, OUT, ENDING), on_rail=False)
