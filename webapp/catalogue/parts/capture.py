"""Capture: connections, generator, tests, settings read back, and capture itself."""

from __future__ import annotations

from webapp.catalogue.choices import ANSWERED, CHAMBERS, MECHANICAL_SIGNS
from webapp.catalogue.declare import (
    OTHER,
    equals,
    every,
    group,
    has,
    many,
    moment,
    one,
    per_wire,
    pick,
    qty,
    text,
    unless,
    within,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.shared_groups import (
    BEGUN,
    CAPTURE_LOST,
    CAPTURE_REGAINED,
    DIAL_LEFT_AT,
    OUTPUT_READING,
    OWN_RHYTHM,
    SENSING_READING,
    SENSING_TEST,
    THIS_WIRE_IN,
    THRESHOLD_TEST,
)

_V_LEAD_USED = equals("advance.guided_by", "intracardiac_ecg")
_PACED = equals("capture.pacing_delivered", "yes")

CONNECTIONS = Section(
    "Connections",
    per_wire(
        yn("ventricular_port", "Ventricular port", "R", asked_when=BEGUN),
        yn("distal_to_negative", "Distal to negative", "R", asked_when=BEGUN),
        yn("proximal_to_positive", "Proximal to positive", "R", asked_when=BEGUN),
        yn("v_lead_off", "V lead off", "R", asked_when=_V_LEAD_USED),
        yn("pins_covered", "Pins covered", "R", asked_when=BEGUN),
        yn("atrial_output_zero", "Atrial output zero", "R", asked_when=BEGUN),
        one("connections_answered", "Lines answered", ANSWERED),
    ),
)

GENERATOR = Section(
    "Generator",
    per_wire(
        group(
            "generator",
            "Generator",
            "H",
            text("asset", "Asset"),
            text("unit", "Belongs to", hint="Ward or unit"),
            one(
                "chambers",
                "Single or dual chamber",
                pick(single="Single", dual="Dual"),
            ),
            one(
                "output_kind",
                "Output in",
                pick(current="Milliamps", voltage="Volts"),
            ),
            qty("pulse_width", "Pulse width", "ms", "0.01"),
            text("output_dial", "Output dial", hint="0.1 to 25 by 0.1"),
            text("sensitivity_dial", "Sensitivity dial", hint="0.8 to 20 by 0.2"),
            moment("battery_fitted", "Battery fitted"),
        ),
        yn("generator_on", "Generator on", "C", asked_when=BEGUN),
        moment("generator_on_at", "Generator on at", "C", asked_when=BEGUN),
        group(
            "changed",
            "Changed after a test",
            "",
            one(
                "what",
                "What changed",
                (
                    *pick(
                        resecured="Wire secured again or sheath moved",
                        repositioned="Wire repositioned",
                        cable="Cable",
                        generator="Generator",
                        battery="Battery",
                        balloon="Balloon",
                    ),
                    OTHER,
                ),
            ),
        ),
    ),
)

PACING = Section(
    "Pacing delivered",
    per_wire(
        yn("pacing_delivered", "Pacing delivered", "C", asked_when=BEGUN),
        yn("standby_only", "Standby only", "C", asked_when=BEGUN),
        moment("pacing_start", "First paced beat", "C", asked_when=_PACED),
        moment("pacing_stop", "Pacing stopped", "C", asked_when=_PACED),
        group(
            "pacing_span",
            "Span of pacing",
            "C",
            moment("start", "Start"),
            moment("stop", "Stop"),
            text("because", "Because"),
            asked_when=_PACED,
            stamped=False,
        ),
    ),
)

TESTS = Section(
    "Tests",
    per_wire(
        group(
            "own_rhythm",
            "Own rhythm with pacing turned down",
            "H",
            *OWN_RHYTHM,
        ),
        group("threshold_test", "Threshold test", "H", *THRESHOLD_TEST),
        group(
            "output_reading",
            "Output reading",
            "H",
            *OUTPUT_READING,
            row_of="capture.threshold_test",
        ),
        qty(
            "impedance",
            "Impedance of this wire",
            "Ohm kOhm",
            "1",
            hard="50..10000",
            soft="200..2000",
        ),
        text(
            "impedance_how",
            "Impedance measured how",
            asked_when=has("capture.impedance"),
        ),
        group("sensing_test", "Sensing test", "H", *SENSING_TEST),
        group(
            "sensing_reading",
            "Sensing reading",
            "H",
            *SENSING_READING,
            row_of="capture.sensing_test",
        ),
    ),
)

SETTINGS = Section(
    "Dial left at",
    per_wire(
        group(
            "dial_left_at",
            "Dial left at",
            "N7 H",
            *DIAL_LEFT_AT,
            hint="Read back from the generator",
            asked_when=THIS_WIRE_IN,
        ),
    ),
)

SIGNS = Section(
    "Capture",
    per_wire(
        yn("electrical_capture", "Electrical capture", "N7 H", asked_when=BEGUN),
        yn("capture_consistent", "Capture consistent, beat after beat", since=3),
        many(
            "mechanical_capture",
            "Mechanical capture",
            MECHANICAL_SIGNS,
            "N7 H",
            asked_when=BEGUN,
        ),
        qty(
            "mechanical_rate",
            "Rate counted",
            "/min",
            "1",
            "N7 H",
            hard="0..350",
            asked_when=every(
                BEGUN, unless(equals("capture.mechanical_capture", "none"))
            ),
        ),
        many(
            "twitch",
            "Twitch",
            (*pick(none="None", diaphragm="Diaphragm", chest_wall="Chest wall"), OTHER),
        ),
        qty(
            "twitch_output",
            "Twitch at output",
            "mA",
            "0.1",
            hard="0..25",
            asked_when=within("capture.twitch", "diaphragm", "chest_wall", "other"),
        ),
        yn("held_deep_breath", "Capture held with a deep breath"),
        yn("held_cough", "Capture held with a cough"),
        yn("held_head_turn", "Capture held with the head turned"),
        group("capture_lost", "Capture lost (not a test)", "", *CAPTURE_LOST),
        group(
            "capture_regained",
            "Capture back",
            "",
            *CAPTURE_REGAINED,
            row_of="capture.capture_lost",
        ),
    ),
)

FAST = Section(
    "Overdrive and target rate",
    per_wire(
        group(
            "overdrive",
            "Overdrive",
            "",
            one("chamber", "Chamber", CHAMBERS),
            qty("rate", "Rate", "/min", hard="0..800"),
            text("because", "Reason"),
            yn("defibrillator_charged", "Defibrillator charged"),
        ),
        group(
            "target_rate",
            "Target rate",
            "",
            qty("rate", "Rate", "/min", hard="0..800", soft="30..150"),
            text("because", "Reason"),
        ),
        group(
            "rhythm_again",
            "Fast rhythm came back",
            "",
            one(
                "rhythm",
                "Rhythm",
                (*pick(torsades="Torsades", vt="VT", vf="VF", svt="SVT"), OTHER),
            ),
            qty("rate_then", "Paced rate at that time", "/min", hard="0..800"),
            text("ended_by", "Ended by"),
        ),
    ),
)

PART = Part(
    "capture",
    "Capture",
    (CONNECTIONS, GENERATOR, PACING, TESTS, SETTINGS, SIGNS, FAST),
)
