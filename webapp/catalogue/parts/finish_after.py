"""Finish: who attended how long, the words of the note, leaving, and the plan."""

from __future__ import annotations

from webapp.catalogue.choices import DIAGNOSES, PARTS, PLACES
from webapp.catalogue.declare import (
    OTHER,
    date,
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
from webapp.catalogue.parts.shared_groups import SEPARATE_REPORT

ATTENDANCE = Section(
    "Critical care and supervision",
    (
        group(
            "critical_care",
            "Critical care",
            "C",
            person("person", "Person"),
            date("day", "Date"),
            moment("start", "Start"),
            moment("stop", "Stop"),
            text("organ", "Which organ"),
            prose("threat", "What threatened"),
            prose("done", "What was done"),
            yn("excludes_procedures", "Without separately reported procedures"),
            yn("over_midnight", "Continuous over midnight"),
            person("shared_with", "Shared with"),
            yn("related", "Related to the procedure"),
            stamped=False,
        ),
        group(
            "supervision",
            "Supervision",
            "C",
            person("supervisor", "Supervisor"),
            many("key_part", "Key part, chosen by the supervisor", PARTS),
            moment("present_from", "Present from"),
            moment("present_to", "Present to"),
            yn("available", "Immediately available throughout"),
            yn("hands_on", "Hands on"),
            prose("words", "In their own words"),
            stamped=False,
        ),
        group("separate_report", "Separate signed report", "C", *SEPARATE_REPORT),
    ),
)

WORDS = Section(
    "Findings and diagnosis",
    (
        prose("findings", "Findings", "N"),
        prose("technique", "Technique", "N"),
        many("post_diagnosis", "Diagnosis after the procedure", DIAGNOSES, "N C"),
        yn("larger_procedure", "Part of a larger procedure the same day", "C"),
        many(
            "larger_procedure_which",
            "Which",
            (
                *pick(
                    coronary_intervention="Coronary intervention",
                    cardiac_surgery="Cardiac surgery",
                    permanent_system="Permanent system",
                ),
                OTHER,
            ),
            "C",
            asked_when=equals("finish.larger_procedure", "yes"),
        ),
        moment(
            "brief_note_written",
            "Brief note written before leaving",
            "N",
        ),
    ),
)

LEAVING = Section(
    "Leaving",
    (
        one(
            "condition",
            "Condition",
            (
                *pick(
                    stable="Stable",
                    guarded="Guarded",
                    critical="Critical",
                    died="Died",
                ),
                OTHER,
            ),
            "H",
        ),
        one(
            "destination",
            "Destination",
            (
                *PLACES[:-1],
                *pick(
                    other_hospital="Other hospital",
                    home="Home",
                    stays_here="Stays here",
                ),
                OTHER,
            ),
            "H",
        ),
        person("handed_to", "Handed to", "H"),
        person("received_by", "Received by", "H"),
        moment("received_at", "Received at", "H"),
    ),
)

PLAN = Section(
    "Plan",
    (
        qty("check_interval", "Pacing check every", "h d", "1", "H"),
        prose("call_limits", "Call when", "H"),
        text("call_whom", "Call whom", "H"),
        qty("target_rate", "Target rate", "/min", "1", "H", hard="0..800"),
        prose("removal_plan", "Permanent system or removal plan", "H"),
        many(
            "restrictions",
            "Restrictions",
            (
                *pick(
                    leg_straight="Leg straight",
                    bed_rest="Bed rest",
                    no_lifting="No lifting of the arm",
                    log_roll="Log-roll",
                    no_pulling="No pulling at the neck",
                    pins_covered="Pins covered, gloves, no mains contact",
                    not_for_mri="Not for MRI",
                    clot_prophylaxis="Clot prophylaxis considered",
                    none="None",
                ),
                OTHER,
            ),
            "H",
        ),
    ),
)
