"""Finish: how it ended, what was confirmed, what went wrong, what comes next."""

from __future__ import annotations

from webapp.catalogue.choices import ANSWERED, PADS, PARTS, SEEN_BY
from webapp.catalogue.declare import (
    OTHER,
    equals,
    every,
    group,
    has,
    moment,
    one,
    person,
    photo,
    pick,
    qty,
    text,
    unless,
    within,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.finish_after import (
    ATTENDANCE,
    LEAVING,
    PLAN,
    WORDS,
)
from webapp.catalogue.parts.finish_wrong import WRONG
from webapp.catalogue.parts.shared_groups import BEGUN, WIRE_IN

_STOPPED = every(
    has("finish.outcome"),
    unless(within("finish.outcome", "capturing_wire_in", "standby_wire_in")),
)

OUTCOME = Section(
    "Outcome",
    (
        one(
            "outcome",
            "Outcome of the procedure",
            pick(
                capturing_wire_in="Capturing, wire in",
                not_capturing_wire_in="Wire in, not capturing",
                standby_wire_in="Wire in, standby, not paced",
                given_up_wire_out="Given up, wire out",
                given_up_cannot_remove="Given up, wire cannot be removed",
                stopped_own_rhythm_back="Stopped, own rhythm back",
                not_started="Not started",
                died_during="Died during",
            ),
            "N C H",
        ),
        one("stopped_at", "Stopped at which part", PARTS, "C", asked_when=_STOPPED),
        one(
            "stopped_why",
            "Stopped why",
            (
                *pick(
                    patient_safety="Patient safety",
                    technical="Technical",
                    patient_or_family="Patient or family",
                ),
                OTHER,
            ),
            "C",
            asked_when=_STOPPED,
        ),
        text("stopped_why_words", "Why, in words", "C", asked_when=_STOPPED),
        yn("anaesthetic_begun", "Anaesthetic begun", "C", asked_when=_STOPPED),
    ),
)

_LEADS = pick(
    v1="V1",
    v2="V2",
    v3="V3",
    v4="V4",
    v5="V5",
    v6="V6",
    none="None",
)

CONFIRMED = Section(
    "Place and state at the end",
    (
        one(
            "balloon_at_end",
            "Balloon at the end",
            pick(
                down="Fully down",
                some_left="About x mL left",
                not_balloon="Not a balloon wire",
                up="Up",
            ),
            "R H",
            asked_when=WIRE_IN,
        ),
        qty(
            "balloon_left_ml",
            "Left in the balloon",
            "mL",
            "0.1",
            "R H",
            hard="0..3",
            asked_when=equals("finish.balloon_at_end", "some_left"),
        ),
        one(
            "balloon_syringe",
            "Balloon syringe",
            pick(off="Off", locked="Locked", on_not_locked="On, not locked"),
            "R H",
            asked_when=every(
                WIRE_IN, unless(equals("finish.balloon_at_end", "not_balloon"))
            ),
        ),
        moment(
            "dressing_on",
            "Dressing on",
            "N C",
            hint="The stop of the procedure",
            asked_when=BEGUN,
        ),
        group(
            "paced_ecg",
            "Paced 12-lead",
            "R",
            one(
                "pattern",
                "Pattern",
                (
                    *pick(
                        left_bundle="Left-bundle look",
                        right_bundle="Right-bundle look",
                        narrow="Narrow",
                        not_paced="Not paced",
                    ),
                    OTHER,
                ),
            ),
            qty("axis", "Frontal axis", "deg", hard="-180..180"),
            one("transition", "Transition", _LEADS),
            yn("s_in_1", "S in I"),
            yn("v1_v2_lower", "V1–V2 one space lower"),
            yn("r_v1_gone", "R in V1 gone"),
            photo("photo", "Photo of the 12-lead"),
            text("report_reference", "Separate signed report"),
            asked_when=WIRE_IN,
        ),
        group(
            "imaging",
            "Film or ultrasound",
            "R",
            one(
                "kind",
                "Kind",
                (
                    *pick(
                        film="Film",
                        ultrasound="Ultrasound",
                        fluoroscopy="Fluoroscopy",
                        ct="CT",
                    ),
                    OTHER,
                ),
            ),
            moment("ordered", "Ordered"),
            one("state", "State", SEEN_BY),
            person(
                "reported_by",
                "Reported by",
                asked_when=equals("row.state", "reported"),
            ),
            text("tip", "Tip where"),
            yn("pneumothorax", "Pneumothorax"),
            yn("effusion", "Effusion"),
            yn("wire_not_retained", "No guidewire left behind"),
            text("reference", "Archive reference"),
            photo("photo", "Photo"),
            asked_when=BEGUN,
        ),
    ),
)

SECURED = Section(
    "Secured",
    (
        yn("secured_suture", "Suture", "H", asked_when=WIRE_IN),
        yn("secured_sleeve_locked", "Sleeve locked", "H", asked_when=WIRE_IN),
        yn("secured_dressing", "Dressing", "H", asked_when=WIRE_IN),
        yn("secured_generator_fixed", "Generator fixed", "H", asked_when=WIRE_IN),
        yn("secured_settings_locked", "Settings locked", "H", asked_when=WIRE_IN),
        yn("secured_fresh_battery", "Fresh battery", "H", asked_when=WIRE_IN),
        yn("secured_spare_battery", "Spare battery", "H", asked_when=WIRE_IN),
        one("pads_left", "Pads left", PADS, "H"),
        one("secured_answered", "Lines answered", ANSWERED),
    ),
)

PART = Part(
    "finish",
    "Finish",
    (OUTCOME, CONFIRMED, SECURED, WRONG, ATTENDANCE, WORDS, LEAVING, PLAN),
)
