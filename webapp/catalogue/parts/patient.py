"""Patient: who it is, what the wire must take into account, who was there."""

from __future__ import annotations

from webapp.catalogue.choices import PLACES, ROLES
from webapp.catalogue.declare import (
    OTHER,
    below,
    date,
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
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.patient_blood import BLOOD

_NEWBORN = some(equals("patient.age_class", "newborn"), below("derived.age_days", "28"))
_TOO_YOUNG_OR_OLD = some(
    below("derived.age_years", "10"),
    every(has("derived.age_years"), unless(below("derived.age_years", "56"))),
    within("patient.age_class", "newborn", "infant", "child", "elderly_adult"),
)
_MAY_BE_PREGNANT = every(equals("patient.sex", "female"), unless(_TOO_YOUNG_OR_OLD))
_NAMED = unless(equals("patient.identity_known", "no"))
_PREGNANT = every(_MAY_BE_PREGNANT, equals("patient.pregnant", "yes"))

BAND_HOW = pick(scan="By scan", eye="By eye")

WHO = Section(
    "Who",
    (
        one(
            "start",
            "Start",
            pick(
                wristband="By wristband",
                typed="Typed",
                start_now="Start now, no name",
            ),
            "N1",
        ),
        yn("identity_known", "Identity known", "N1"),
        text("alias", "Working name", hint="Kept after the name is known"),
        text("case_code", "Case code", hint="Four digits", max_length=4),
        text(
            "why_not_known",
            "Why the name is not known",
            "N1",
            asked_when=equals("patient.identity_known", "no"),
        ),
        text("family_name", "Family name", "N", max_length=80, asked_when=_NAMED),
        text("given_name", "Given name", "N", max_length=80, asked_when=_NAMED),
        one(
            "sex",
            "Sex for clinical use",
            pick(female="Female", male="Male", other="Other", unknown="Unknown"),
            "N",
        ),
        text("record_number", "Record number", "N C", hint="As printed"),
        text("encounter_number", "Encounter number", "N C", hint="As printed"),
        moment("wristband_read", "Wristband read"),
        one("wristband_how", "Wristband read how", BAND_HOW),
        group(
            "wristband_reread",
            "Wristband read again",
            "",
            one("result", "Result", pick(same="Same", different="Different")),
            one("how", "How", BAND_HOW),
        ),
    ),
)

AGE_AND_SIZE = Section(
    "Age and size",
    (
        date("birth_date", "Date of birth", "N"),
        qty(
            "estimated_age",
            "Estimated age",
            "a d h",
            needs="N",
            hard="0..125",
            hint="Days or hours for a newborn",
            asked_when=unless(has("patient.birth_date")),
        ),
        one(
            "age_how",
            "Age estimated or told",
            pick(estimated="Estimated", told="Told"),
            asked_when=has("patient.estimated_age"),
            since=3,
        ),
        one(
            "age_class",
            "Age by look",
            pick(
                newborn="Newborn",
                infant="Infant",
                child="Child",
                adolescent="Adolescent",
                adult="Adult",
                elderly_adult="Elderly adult",
            ),
            "N",
            asked_when=every(
                unless(has("patient.birth_date")),
                unless(has("patient.estimated_age")),
            ),
        ),
        qty(
            "gestation",
            "Gestation at birth",
            "wk",
            hard="20..44",
            asked_when=_NEWBORN,
        ),
        qty(
            "weight",
            "Weight",
            "kg",
            "0.1",
            "R",
            hard="0.2..700",
            soft_adult="30..200",
            hint="Under 10 kg to 0.01",
        ),
        one(
            "weight_how",
            "Weight measured or estimated",
            pick(measured="Measured", estimated="Estimated", told="Told"),
            "R",
        ),
        qty("height", "Height", "cm", hard="20..275", soft_adult="130..210"),
        qty(
            "temperature",
            "Temperature",
            "Cel [degF]",
            "0.1",
            hard="10..47",
            soft="32..38.5",
        ),
        yn("pregnant", "Pregnant", asked_when=_MAY_BE_PREGNANT),
        qty(
            "pregnancy_weeks",
            "Weeks of pregnancy",
            "wk",
            hard="1..44",
            asked_when=_PREGNANT,
        ),
        group(
            "fetal_heart_rate",
            "Fetal heart rate",
            "",
            qty("rate", "Rate", "/min", hard="0..350"),
            asked_when=_PREGNANT,
        ),
    ),
)

WHERE = Section(
    "Where and status",
    (
        one("place_of_care", "Place of care at the time", PLACES, "N"),
        one(
            "status",
            "Patient status at the time",
            pick(
                emergency="Emergency outpatient",
                observation="Observation",
                outpatient="Other outpatient",
                inpatient="Inpatient",
                in_transport="In transport",
                not_known="Not known",
            ),
            "C",
        ),
        one(
            "inpatient_order_given",
            "Inpatient order",
            pick(given="Given", none_yet="No order yet"),
            "C",
        ),
        moment(
            "inpatient_order",
            "Inpatient order at",
            "C",
            asked_when=equals("patient.inpatient_order_given", "given"),
        ),
        one(
            "payer_class",
            "Payer class",
            (
                *pick(
                    medicare="Medicare",
                    medicaid="Medicaid",
                    commercial="Commercial",
                    self_pay="Self pay",
                ),
                OTHER,
            ),
            "C",
            hint="From registration",
        ),
    ),
)

PEOPLE = Section(
    "People",
    (
        group(
            "people",
            "People",
            "N C",
            person("person", "Person"),
            text("credential", "Credential"),
            one("role", "Role", ROLES),
            text("npi", "NPI", max_length=10, hint="From the account"),
            text("billing_group", "Billing group", hint="From the account"),
            yn("trainee", "Trainee"),
            text("trainee_level", "Level", asked_when=equals("row.trainee", "yes")),
            moment("arrived", "Arrived"),
            moment("left", "Left"),
            many(
                "task",
                "Task",
                (
                    *pick(
                        approach="Approach",
                        advance="Advance",
                        settings="Settings",
                        other_line="Other line",
                        sedation="Sedation",
                        entry="Entries on the tablet",
                    ),
                    OTHER,
                ),
            ),
            stamped=False,
        ),
        group(
            "people_left",
            "Left, or changed task",
            "",
            prose("what", "What changed"),
            row_of="patient.people",
        ),
    ),
)

PART = Part("patient", "Patient", (WHO, AGE_AND_SIZE, BLOOD, WHERE, PEOPLE))
