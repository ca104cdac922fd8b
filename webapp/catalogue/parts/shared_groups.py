"""Runs of children that several parts ask in the same words."""

from __future__ import annotations

from webapp.catalogue.choices import (
    CAPTURE_RESULTS,
    OWN_RHYTHMS,
    PADS,
)
from webapp.catalogue.declare import (
    OTHER,
    equals,
    every,
    has,
    many,
    moment,
    one,
    person,
    photo,
    pick,
    prose,
    qty,
    some,
    text,
    unless,
    within,
    yn,
)
from webapp.catalogue.model import Choice, Field

# Nothing of the procedure is asked once it is known not to have begun.
BEGUN = unless(equals("finish.outcome", "not_started"))
WIRE_IN = unless(within("finish.outcome", "not_started", "given_up_wire_out"))
# The outcome is about the wires of this procedure: not about one that came with the
# patient and lies on beside them.
THIS_WIRE_IN = some(
    WIRE_IN,
    every(
        equals("approach.wire_came", "came_with_it"),
        {"rows": "wires", "counts": 2},
        unless(has("removal.event")),
    ),
)
_HAS_RHYTHM = equals("row.result", "rhythm")

MODES = (
    *(
        Choice(code.lower(), code)
        for code in ("VVI", "VOO", "VVT", "AAI", "AOO", "AAT", "DDD", "DDI", "DVI")
    ),
    *(Choice(code.lower(), code) for code in ("DOO", "VDD")),
    OTHER,
)

OWN_RHYTHM: tuple[Field, ...] = (
    one(
        "result",
        "Own rhythm with pacing turned down",
        pick(
            rhythm="Rate and rhythm",
            none="None",
            not_tested="Not tested",
            not_tolerated="Not tolerated",
        ),
    ),
    qty("rate", "Own rate", "/min", hard="0..350", asked_when=_HAS_RHYTHM),
    one("rhythm", "Rhythm", OWN_RHYTHMS, asked_when=_HAS_RHYTHM),
    qty("pr", "PR", "ms", hard="100..1000", asked_when=_HAS_RHYTHM),
    yn("tolerated", "Tolerated", asked_when=_HAS_RHYTHM),
    yn("reliable", "Reliable, in a child", asked_when=_HAS_RHYTHM),
    text(
        "because",
        "Not tested because",
        asked_when=equals("row.result", "not_tested"),
    ),
    text(
        "symptoms",
        "Symptoms",
        asked_when=within("row.result", "not_tolerated", "rhythm"),
    ),
    qty("lowest_rate", "Lowest pacing rate reached", "/min", hard="0..800"),
    text("stopped_because", "Stopped there because"),
    one("pads_then", "Pads at that time", PADS),
)

DIAL_LEFT_AT: tuple[Field, ...] = (
    one(
        "when_kind",
        "Which settings",
        pick(
            first="First settings",
            after_test="After a test",
            final="Final settings",
            pacing_check="At a pacing check",
            changed="Changed in between",
        ),
    ),
    one("mode", "Mode", MODES, "H"),
    qty("rate", "Rate", "/min", "1", "H", hard="0..800", soft="30..150"),
    qty("output", "Output", "mA", "0.1", "H", hard="0..25"),
    qty("output_v", "Output in volts", "V", "0.1", hard="0..20"),
    qty("pulse_width", "Pulse width", "ms", "0.01", asked_when=has("row.output_v")),
    qty("sensitivity", "Sensitivity", "mV", "0.1", "H", hard="0.1..30"),
    yn("asynchronous", "Asynchronous, no sensing"),
    qty("atrial_output", "Atrial output", "mA", "0.1", hard="0..25"),
    person("read_back_by", "Read back by"),
    photo("photo", "Photo of the generator"),
)

THRESHOLD_TEST: tuple[Field, ...] = (
    one(
        "kind",
        "Kind of test",
        pick(
            full="Full test",
            margin_shown="Margin shown, loss not sought",
        ),
    ),
    yn("pads_ready", "Pads connected, pacing mode ready, for this test"),
    yn("doctor_present", "Doctor present for this test"),
    person("doctor", "Doctor"),
    qty("set_output", "Output at the start", "mA", "0.1", hard="0..25"),
    qty("rate", "Rate in use", "/min", hard="0..800"),
    qty("pulse_width", "Pulse width", "ms", "0.01"),
    moment("restored_at", "Settings restored at"),
    prose("remark", "In words"),
)

OUTPUT_READING: tuple[Field, ...] = (
    qty("output", "Dial called", "mA", "0.1", hard="0..25"),
    qty("output_v", "Dial called, volts", "V", "0.1", hard="0..20"),
    one("result", "Result", CAPTURE_RESULTS),
    qty("rate", "Rate in use", "/min", hard="0..800"),
)

SENSING_TEST: tuple[Field, ...] = (
    qty("sensed_mv", "Own beat sensed down to", "mV", "0.1", hard="0.1..30"),
    qty("rate", "Rate in use", "/min", hard="0..800"),
    qty("output", "Output in use", "mA", "0.1", hard="0..25"),
    moment("restored_at", "Settings restored at"),
    prose("remark", "In words"),
)

SENSING_READING: tuple[Field, ...] = (
    qty("sensitivity", "Dial called", "mV", "0.1", hard="0.1..30"),
    one(
        "result",
        "Result",
        pick(sensed="Sensed", not_sensed="Not sensed", cannot_tell="Can't tell"),
    ),
)

CAPTURE_LOST: tuple[Field, ...] = (
    yn("card_opened", "Action card opened"),
    text("cause_found", "Cause found"),
    text("restored_by", "What restored capture"),
    moment("restored_at", "Capture back at"),
)

CAPTURE_REGAINED: tuple[Field, ...] = (
    text("cause_found", "Cause found"),
    text("restored_by", "What restored capture"),
    prose("settings_now", "Settings now, and who came"),
)

SEPARATE_REPORT: tuple[Field, ...] = (
    one(
        "what",
        "Report on",
        (
            *pick(
                film="Film",
                ecg="12-lead",
                echo="Heart ultrasound",
                vein_ultrasound="Vein ultrasound",
                fluoroscopy="Fluoroscopy",
            ),
            OTHER,
        ),
    ),
    person("author", "Report by"),
    moment("reported_at", "Reported at"),
    prose("findings", "Findings"),
    prose("impression", "Impression"),
    text("reference", "Archive reference"),
    yn("signed", "Signed by the reader"),
    yn("read_by_another", "Also read by another"),
)

VITALS: tuple[Field, ...] = (
    qty("systolic", "BP, upper", "mm[Hg]", hard="0..350"),
    qty("diastolic", "BP, lower", "mm[Hg]", hard="0..350"),
    qty("spo2", "SpO2", "%", hard="0..100"),
)

AWAITED = (
    *pick(
        film="Film",
        ultrasound="Ultrasound",
        twelve_lead="12-lead",
        wire_not_retained="Guidewire not left behind",
    ),
    OTHER,
)


def judged_how() -> Field:
    """Return the question how capture under pads was judged."""
    return many(
        "judged_how",
        "Judged how",
        (
            *pick(
                ecg="Monitor or ECG",
                pulse="Pulse felt",
                pleth="Pleth",
                arterial_line="Arterial line",
                ultrasound="Ultrasound",
            ),
            OTHER,
        ),
    )
