"""Handover and transfer: what the receiver reads again, and the way between."""

from __future__ import annotations

from webapp.catalogue.choices import PADS, READ_AT, READ_HOW
from webapp.catalogue.declare import (
    group,
    moment,
    one,
    per_wire,
    person,
    prose,
    qty,
    text,
    yn,
)
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.shared_groups import MODES

RECEIVER = Section(
    "Receiver reads again",
    per_wire(
        group(
            "receiver_reads",
            "Receiver reads again",
            "H",
            person("by", "Receiver"),
            qty("depth", "Depth", "cm", "0.5", hard="0..125"),
            one("read_at", "Read at", READ_AT),
            one("read_how", "Read how", READ_HOW),
            one("mode", "Mode", MODES),
            qty("rate", "Rate", "/min", hard="0..800", soft="30..150"),
            qty("output", "Output", "mA", "0.1", hard="0..25"),
            qty("output_v", "Output in volts", "V", "0.1", hard="0..20"),
            qty("pulse_width", "Pulse width", "ms", "0.01"),
            qty("sensitivity", "Sensitivity", "mV", "0.1", hard="0.1..30"),
            yn("asynchronous", "Asynchronous, no sensing"),
            yn("sees_capture", "Sees capture"),
            one("sees_pads", "Sees pads", PADS),
            yn("sees_battery", "Sees the battery"),
            yn("knows_if_fails", "Knows what to do if it fails"),
            text("place", "Place"),
        ),
    ),
)

TRANSFER = Section(
    "Transfer",
    (
        group(
            "transfer",
            "Transfer",
            "H",
            text("from_place", "From"),
            text("to_place", "To"),
            moment("left_at", "Left at"),
            moment("arrived_at", "Arrived at"),
            text("escort", "Escort"),
            yn("pads_with", "Pads and pacer-defibrillator with them"),
            yn("spare_generator", "Spare generator"),
            yn("spare_battery", "Spare battery"),
            yn("spare_cable", "Spare cable"),
            yn("settings_locked", "Settings locked"),
            text("wire", "Which wire", hint="When there are two"),
            qty("depth_before", "Depth before", "cm", "0.5", hard="0..125"),
            qty("depth_after", "Depth after", "cm", "0.5", hard="0..125"),
            yn("capture_before", "Capture before"),
            yn("capture_after", "Capture after"),
            prose("events", "Events"),
            person("accepted_by", "Accepted by"),
        ),
    ),
)

PART = Part("handover", "Handover and transfer", (RECEIVER, TRANSFER), on_rail=False)
