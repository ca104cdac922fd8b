"""Consent and time-out: on what basis, and that it is the right procedure."""

from __future__ import annotations

from webapp.catalogue.choices import ANSWERED
from webapp.catalogue.declare import (
    OTHER,
    drawing,
    equals,
    group,
    many,
    moment,
    one,
    person,
    pick,
    prose,
    text,
    within,
    yn,
)
from webapp.catalogue.model import Part, Section

_SURROGATE = equals("consent.basis", "surrogate")
_EMERGENCY = equals("consent.basis", "emergency_exception")
_ASKED = within("consent.basis", "patient", "surrogate")

BASIS = Section(
    "Basis",
    (
        one(
            "basis",
            "Consent",
            pick(
                patient="By the patient",
                surrogate="By a surrogate",
                emergency_exception="Emergency exception",
                refused="Refused",
            ),
            "N3",
        ),
        one(
            "capacity",
            "Capacity",
            pick(
                has="Has capacity",
                lacks="Lacks capacity",
                not_assessable="Not assessable",
            ),
            "R",
        ),
        text(
            "lacks_why",
            "Lacks capacity because",
            "R",
            asked_when=equals("consent.capacity", "lacks"),
        ),
        text("surrogate_name", "Surrogate", "R", asked_when=_SURROGATE),
        text("surrogate_relation", "Relation", "R", asked_when=_SURROGATE),
        text("surrogate_contact", "Contact", asked_when=_SURROGATE),
        prose(
            "refusal",
            "The refusal, in their words",
            asked_when=equals("consent.basis", "refused"),
            hint="A capable refusal stands",
        ),
    ),
)

EMERGENCY = Section(
    "Emergency exception",
    (
        prose("threat", "Threat to life or limb", "N3", asked_when=_EMERGENCY),
        text("who_sought", "Who was sought", "N3", asked_when=_EMERGENCY),
        moment("sought_at", "Sought at", "N3", asked_when=_EMERGENCY),
        yn("known_refusal", "Known refusal", "N3", asked_when=_EMERGENCY),
        person("second_clinician", "Second clinician", "N3", asked_when=_EMERGENCY),
    ),
)

SAID = Section(
    "What was discussed",
    (
        many(
            "discussed",
            "Discussed",
            (
                *pick(
                    diagnosis="Diagnosis",
                    benefits="Benefits",
                    alternatives="Alternatives, none included",
                    bleeding="Bleeding",
                    infection="Infection",
                    pneumothorax="Pneumothorax",
                    perforation_tamponade="Perforation and tamponade",
                    arrhythmia="Arrhythmia",
                    displacement="Displacement",
                    thrombosis="Thrombosis",
                    death="Death",
                    questions_answered="Questions answered",
                ),
                OTHER,
            ),
            "R",
            asked_when=_ASKED,
        ),
        one(
            "how",
            "How",
            pick(written="Written", spoken="Spoken", telephone="By telephone"),
            asked_when=_ASKED,
        ),
        person("interpreter", "Interpreter"),
        person("witness", "Witness"),
        drawing("signature", "Signature", asked_when=_ASKED),
        text("signature_name", "Printed name", asked_when=_ASKED),
        moment("signature_at", "Signed at", asked_when=_ASKED),
        text("no_signature_because", "No signature because"),
        group(
            "told_afterwards",
            "Told afterwards",
            "",
            one(
                "told",
                "Told",
                (
                    *pick(
                        patient_awake="Patient, once awake",
                        family="Family",
                    ),
                    OTHER,
                ),
            ),
            text("who", "Who was told"),
        ),
        one(
            "photo_basis",
            "Basis for photos",
            (
                *pick(
                    patient="Patient agrees",
                    surrogate="Surrogate agrees",
                    local_rule="Local rule",
                    no_photos="No photos",
                ),
                OTHER,
            ),
        ),
    ),
)

TIME_OUT = Section(
    "Time-out",
    (
        moment("time_out", "Time-out", "R"),
        yn("time_out_patient", "Right patient", "R"),
        many(
            "time_out_identifiers",
            "Two identifiers",
            (
                *pick(
                    name="Name",
                    birth_date="Date of birth",
                    record_number="Record number",
                    wristband="Wristband",
                ),
                OTHER,
            ),
            "R",
        ),
        yn("time_out_procedure", "Right procedure", "R"),
        yn("time_out_site", "Right site", "R"),
        yn("time_out_all_agree", "All agree", "R"),
        yn("time_out_allergies", "Allergies and blood thinners said", "R"),
        yn("time_out_pads", "Pads", "R"),
        yn("time_out_defibrillator", "Defibrillator ready", "R"),
        yn("time_out_kit", "Kit present", "R"),
        one("time_out_answered", "Lines answered", ANSWERED),
        yn("observer_may_stop", "Observer may stop the procedure"),
    ),
)

PART = Part("consent", "Consent", (BASIS, EMERGENCY, SAID, TIME_OUT))
