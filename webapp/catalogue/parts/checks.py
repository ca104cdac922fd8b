"""Pacing checks, any number: the look, the settings read, the tests."""

from __future__ import annotations

from webapp.catalogue.choices import BALLOON, MECHANICAL_SIGNS, PADS, READ_AT, READ_HOW
from webapp.catalogue.declare import (
    OTHER,
    date,
    group,
    many,
    moment,
    one,
    per_wire,
    pick,
    prose,
    qty,
    text,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.shared_groups import (
    CAPTURE_LOST,
    CAPTURE_REGAINED,
    DIAL_LEFT_AT,
    OUTPUT_READING,
    OWN_RHYTHM,
    SENSING_READING,
    SENSING_TEST,
    THRESHOLD_TEST,
    VITALS,
)

LOOK = Section(
    "Look",
    per_wire(
        group(
            "check",
            "Pacing check",
            "H",
            one(
                "due_reason",
                "Due because",
                (
                    *pick(
                        arrival="Arrival",
                        shift="Shift",
                        turned="Turned",
                        film="Film or scan",
                        transport="Transport",
                        threshold_daily="Threshold, daily",
                    ),
                    OTHER,
                ),
            ),
            one(
                "done",
                "Done",
                (
                    *pick(
                        done="Done",
                        dependent="Not done: no own rhythm",
                        not_my_role="Not done: not my role",
                        asked_doctor="Not done: asked doctor",
                    ),
                    OTHER,
                ),
            ),
            yn("electrical_capture", "Electrical capture"),
            many("mechanical_capture", "Mechanical capture", MECHANICAL_SIGNS),
            qty("mechanical_rate", "Rate counted", "/min", hard="0..350"),
            yn("shape_same", "Paced shape same as before"),
            yn("spikes_wrong_place", "Spikes in the wrong place"),
            qty("depth", "Depth", "cm", "0.5", hard="0..125"),
            one("read_at", "Read at", READ_AT),
            one("read_how", "Read how", READ_HOW),
            yn("moved", "Moved"),
            qty("site_score", "Site score"),
            date("dressing_date", "Dressing date"),
            yn("sleeve_intact", "Sleeve intact"),
            yn("connections", "Connections tight"),
            one("balloon", "Balloon", BALLOON),
            yn("battery", "Battery good"),
            moment("battery_changed", "Battery changed"),
            one("pads", "Pads", PADS),
            yn("chest_pain", "Chest pain"),
            yn("hiccup_twitch", "Hiccup or twitch"),
            yn("breathless", "Breathless"),
            *VITALS[:2],
            qty(
                "temperature",
                "Temperature",
                "Cel [degF]",
                "0.1",
                hard="10..47",
                soft="32..38.5",
            ),
            qty(
                "potassium",
                "Potassium",
                "mmol/L mg/dL",
                "0.1",
                hard="0.5..20",
                soft="3.5..5.5",
            ),
            yn("still_needed", "Still needed"),
            yn("said_if_fails", "What to do if it fails was said"),
            prose("changed_to", "Changed to"),
            one(
                "threshold_due",
                "Threshold test",
                pick(tested="Tested", not_due="Not due"),
            ),
            one(
                "sensing_due",
                "Sensing test",
                pick(
                    tested="Tested",
                    not_due="Not due",
                    no_rhythm="Not done: no rhythm to sense",
                ),
            ),
            text("place", "Place"),
        ),
    ),
)

READ = Section(
    "Settings and tests",
    per_wire(
        group("dial_left_at", "Dial left at", "H", *DIAL_LEFT_AT),
        group("own_rhythm", "Own rhythm with pacing turned down", "H", *OWN_RHYTHM),
        group("threshold_test", "Threshold test", "H", *THRESHOLD_TEST),
        group(
            "output_reading",
            "Output reading",
            "H",
            *OUTPUT_READING,
            row_of="checks.threshold_test",
        ),
        group("sensing_test", "Sensing test", "H", *SENSING_TEST),
        group(
            "sensing_reading",
            "Sensing reading",
            "H",
            *SENSING_READING,
            row_of="checks.sensing_test",
        ),
        group("capture_lost", "Capture lost (not a test)", "", *CAPTURE_LOST),
        group(
            "capture_regained",
            "Capture back",
            "",
            *CAPTURE_REGAINED,
            row_of="checks.capture_lost",
        ),
    ),
)

PART = Part("checks", "Pacing checks", (LOOK, READ), on_rail=False)
