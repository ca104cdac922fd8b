"""Approach: barrier, local anaesthetic and the sedation record."""

from __future__ import annotations

from webapp.catalogue.choices import ANSWERED, LEVELS
from webapp.catalogue.declare import (
    OTHER,
    equals,
    every,
    group,
    moment,
    one,
    person,
    pick,
    prose,
    qty,
    text,
    within,
    yn,
)
from webapp.catalogue.model import Section
from webapp.catalogue.parts.shared_groups import BEGUN, VITALS

_ULTRASOUND = within("approach.guidance", "real_time_ultrasound", "marked_ultrasound")
_SEDATED = equals("approach.sedative_given", "yes")

BARRIER = Section(
    "Barrier",
    (
        yn("barrier_hands", "Hands", "R", asked_when=BEGUN),
        yn("barrier_cap", "Cap", "R", asked_when=BEGUN),
        yn("barrier_mask", "Mask", "R", asked_when=BEGUN),
        yn("barrier_gown", "Sterile gown", "R", asked_when=BEGUN),
        yn("barrier_gloves", "Sterile gloves", "R", asked_when=BEGUN),
        yn("barrier_full_body_drape", "Full-body drape", "R", asked_when=BEGUN),
        one(
            "skin_prep",
            "Skin prep",
            (
                *pick(
                    chlorhexidine_alcohol="Chlorhexidine in alcohol",
                    chlorhexidine_water="Chlorhexidine in water",
                    povidone_iodine="Povidone iodine",
                    alcohol="Alcohol",
                    none="None",
                ),
                OTHER,
            ),
            "R",
            asked_when=BEGUN,
        ),
        yn("barrier_skin_dried", "Skin prep dried", "R", asked_when=BEGUN),
        yn(
            "barrier_probe_cover",
            "Probe cover",
            "R",
            asked_when=every(BEGUN, _ULTRASOUND),
        ),
        one("barrier_answered", "Lines answered", ANSWERED),
    ),
)

LOCAL = Section(
    "Local anaesthetic",
    (
        group(
            "local_anaesthetic",
            "Local anaesthetic",
            "R",
            one(
                "agent",
                "Agent",
                (
                    *pick(
                        lidocaine="Lidocaine",
                        prilocaine="Prilocaine",
                        mepivacaine="Mepivacaine",
                        bupivacaine="Bupivacaine",
                        levobupivacaine="Levobupivacaine",
                        ropivacaine="Ropivacaine",
                    ),
                    OTHER,
                ),
            ),
            qty("strength", "Strength", "%", "0.01", hard="0..100"),
            yn("with_adrenaline", "With adrenaline"),
            qty("volume", "Volume", "mL", "0.1"),
            asked_when=BEGUN,
        ),
    ),
    note="Lidocaine into the vein for ectopy counts too; enter it as a drug given.",
)

SEDATION = Section(
    "Sedation",
    (
        yn("sedative_given", "Sedative given", "C"),
        one(
            "sedation_depth",
            "Intended depth",
            pick(
                minimal="Minimal", moderate="Moderate", deep="Deep", general="General"
            ),
            "C",
            asked_when=_SEDATED,
        ),
        one(
            "sedation_asa",
            "ASA class",
            pick(asa_1="1", asa_2="2", asa_3="3", asa_4="4", asa_5="5"),
            "C",
            asked_when=_SEDATED,
        ),
        text("sedation_fasting", "Fasting", "C", asked_when=_SEDATED),
        text("sedation_airway", "Airway", "C", asked_when=_SEDATED),
        person("sedation_watcher", "Sedation watcher", "C", asked_when=_SEDATED),
        text("sedation_watcher_training", "Training", "C", asked_when=_SEDATED),
        yn(
            "sedation_watcher_only",
            "Watcher has no other task",
            "C",
            asked_when=_SEDATED,
        ),
        yn("sedation_operator_directs", "Operator directs", "C", asked_when=_SEDATED),
        moment("sedation_start", "Sedation start", "C", asked_when=_SEDATED),
        moment("sedation_stop", "Sedation stop", "C", asked_when=_SEDATED),
        group(
            "sedation_observation",
            "Sedation observation",
            "C",
            *VITALS,
            qty("breaths", "Breaths", "/min", hard="0..80"),
            qty("co2", "CO2, end-tidal", "mm[Hg] kPa", "0.1"),
            one("level", "Level", LEVELS),
            asked_when=_SEDATED,
            hint="At least every 5 min",
        ),
        group(
            "sedation_drug",
            "Sedative",
            "C",
            text("drug", "Drug"),
            qty("dose", "Dose", "mg ug g mL mg/kg ug/kg mg/h ug/kg/min", "0.01"),
            yn("reversal", "Given to reverse"),
            asked_when=_SEDATED,
        ),
        prose("sedation_recovery", "Recovery", "C", asked_when=_SEDATED),
    ),
)
