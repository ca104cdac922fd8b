"""Indication: arrest, observations, drugs and skin pacing, all through the case."""

from __future__ import annotations

from webapp.catalogue.choices import LEVELS, PADS
from webapp.catalogue.declare import (
    OTHER,
    every,
    group,
    has_row,
    moment,
    one,
    person,
    pick,
    prose,
    qty,
    text,
    unless,
    within,
    yn,
)
from webapp.catalogue.model import Section
from webapp.catalogue.parts.shared_groups import VITALS, judged_how

_DOSE_UNITS = (
    "mg g ug mL mmol meq [IU] ug/min ug/kg/min mg/h mg/min mL/h mL/kg mg/kg [IU]/h "
    "[IU]/kg/h L"
)

_ARREST = has_row("indication.arrest", every())
_PADS_PACED = has_row(
    "indication.skin_pacing",
    unless(within("row.state", "ready_not_pacing", "not_used")),
)

ARREST = Section(
    "Arrest",
    (
        group(
            "arrest",
            "Arrest",
            "C",
            moment("pulse_lost", "Pulse lost"),
            moment("pulse_back", "Pulse back"),
            yn("paced_in_arrest", "Paced in arrest"),
            prose("detail", "In words"),
            hint="A pause with no arrest is not entered here",
        ),
        group(
            "pulse_back",
            "Pulse back",
            "C",
            asked_when=_ARREST,
            row_of="indication.arrest",
        ),
        group(
            "cpr_span",
            "CPR",
            "C",
            moment("start", "Start"),
            moment("stop", "Stop"),
            stamped=False,
            asked_when=_ARREST,
            row_of="indication.arrest",
        ),
        group(
            "defibrillation",
            "Defibrillator shock",
            "C",
            qty("energy", "Energy", "J"),
            asked_when=_ARREST,
            row_of="indication.arrest",
        ),
    ),
)

OBSERVATIONS = Section(
    "Observations",
    (
        group(
            "observations",
            "Observations",
            "R",
            qty("heart_rate", "Heart rate", "/min", hard="0..350"),
            *VITALS,
            text("oxygen", "Oxygen given"),
            qty("breaths", "Breaths", "/min", hard="0..80"),
            qty("co2", "CO2, end-tidal", "mm[Hg] kPa", "0.1"),
            one("level", "Level", LEVELS),
            text("where", "Where"),
        ),
        group(
            "event",
            "Event or finding",
            "",
            prose("what", "What happened or was found"),
            text("where", "Where"),
        ),
    ),
)

DRUGS = Section(
    "Drugs given",
    (
        group(
            "drugs_given",
            "Drug given",
            "R",
            one(
                "drug",
                "Drug",
                (
                    *pick(
                        atropine="Atropine",
                        adrenaline="Adrenaline (epinephrine)",
                        isoprenaline="Isoprenaline (isoproterenol)",
                        dopamine="Dopamine",
                        dobutamine="Dobutamine",
                        noradrenaline="Noradrenaline (norepinephrine)",
                        aminophylline="Aminophylline",
                        glucagon="Glucagon",
                        calcium="Calcium",
                        insulin_glucose="Insulin and glucose",
                        magnesium="Magnesium",
                        bicarbonate="Bicarbonate",
                        digoxin_antibody="Digoxin antibody",
                        amiodarone="Amiodarone",
                        lidocaine="Lidocaine into the vein",
                        heparin="Heparin",
                        thrombolytic="Thrombolytic",
                        midazolam="Midazolam",
                        ketamine="Ketamine",
                        propofol="Propofol",
                        fentanyl="Fentanyl",
                        morphine="Morphine",
                        antibiotic="Antibiotic",
                        fluid="Fluid",
                    ),
                    OTHER,
                ),
            ),
            text("which", "Which, or strength"),
            qty("dose", "Dose", _DOSE_UNITS, "0.01"),
            one(
                "route",
                "Route",
                (
                    *pick(
                        iv="Into the vein",
                        iv_infusion="Infusion into the vein",
                        io="Into bone",
                        im="Into muscle",
                        by_mouth="By mouth",
                        inhaled="Inhaled",
                        skin="On the skin",
                    ),
                    OTHER,
                ),
            ),
            one(
                "effect",
                "Effect",
                (
                    *pick(
                        none="None",
                        better="Better",
                        worse="Worse",
                        too_early="Too early to tell",
                    ),
                    OTHER,
                ),
            ),
            moment("stopped", "Infusion stopped"),
        ),
    ),
)

SKIN_PACING = Section(
    "Skin pacing and pads",
    (
        group(
            "skin_pacing",
            "Skin pacing",
            "R C",
            one(
                "state",
                "State",
                pick(
                    paced="Pacing",
                    ready_not_pacing="Ready, not pacing",
                    not_used="Not used",
                ),
            ),
            moment("start", "Start"),
            qty("rate", "Rate", "/min", hard="0..800"),
            qty("output", "Output", "mA", hard="0..200"),
            person("operator", "Operator"),
            moment("stop", "Stop"),
            text("where", "Where"),
        ),
        group(
            "skin_pacing_reading",
            "Capture under skin pacing",
            "R C",
            yn("electrical", "Electrical capture"),
            yn("mechanical", "Mechanical capture"),
            judged_how(),
            qty("output", "Output then", "mA", hard="0..200"),
            text("pads_where", "Pads where"),
            asked_when=_PADS_PACED,
            row_of="indication.skin_pacing",
        ),
        group(
            "skin_pacing_stop",
            "Skin pacing stopped",
            "C",
            text("because", "Because"),
            asked_when=_PADS_PACED,
            row_of="indication.skin_pacing",
        ),
        group(
            "pads",
            "Pads",
            "H",
            one("state", "State", PADS),
            qty("capture_ma", "Last tested capture", "mA", hard="0..200"),
            yn("skin_looked_at", "Skin looked at"),
        ),
    ),
)
