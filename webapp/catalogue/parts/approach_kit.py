"""Approach: the wire, its way in and its introducer, for each wire."""

from __future__ import annotations

from webapp.catalogue.choices import CHAMBERS, SITES
from webapp.catalogue.declare import (
    OTHER,
    date,
    equals,
    moment,
    one,
    per_wire,
    pick,
    prose,
    qty,
    text,
    yn,
)
from webapp.catalogue.model import Section

_CAME_WITH = equals("approach.wire_came", "came_with_it")
_BALLOON = equals("approach.wire_kind", "balloon_tipped")

WIRE = Section(
    "This wire",
    per_wire(
        one(
            "wire_came",
            "Wire",
            pick(
                new_here="New here",
                exchanged_here="Exchanged here",
                only_repositioned="Only repositioned",
                came_with_it="Came with it",
            ),
            "N C H",
        ),
        text("came_from", "Came from where", asked_when=_CAME_WITH),
        moment("came_placed_at", "Placed there when", asked_when=_CAME_WITH),
        text("came_placed_by", "Placed there by", asked_when=_CAME_WITH),
        prose("came_known", "What is known of it", asked_when=_CAME_WITH),
        text("wire_name", "Name of the wire", "N C H"),
        one("chamber", "Chamber", CHAMBERS, "N C H"),
        one("site", "Site and side", SITES, "N4 C H"),
    ),
)

KIT = Section(
    "Kit",
    per_wire(
        qty("introducer_fr", "Introducer", "[Ch]", "0.5", "R H", hard="3..14"),
        qty("introducer_length", "Introducer length", "cm", "0.5", "R H"),
        yn("introducer_side_port", "Side port", "R H"),
        yn("introducer_capped", "Capped when the wire is out", "R H"),
        yn("introducer_aspirates", "Sheath aspirates"),
        yn("introducer_flushes", "Sheath flushes"),
        yn("introducer_secured", "Sheath secured"),
        text("introducer_tip", "Tip of sheath"),
        one(
            "introducer_side_port_use",
            "Side port used for",
            pick(none="None", drugs="Drugs", pressure="Pressure"),
        ),
        yn("introducer_vasopressor", "Vasopressor through this line"),
        qty("wire_fr", "Pacing wire", "[Ch]", "0.5", "R", hard="2..8"),
        one(
            "wire_kind",
            "Kind of wire",
            (
                *pick(
                    balloon_tipped="Balloon-tipped",
                    semi_rigid="Semi-rigid",
                    active_fixation="Active-fixation, externalised",
                    guidewire="Guidewire used as electrode",
                ),
                OTHER,
            ),
            "R",
        ),
        qty("wire_poles", "Poles", step="1", needs="R"),
        qty("wire_length", "Wire length", "cm", "1", "R"),
        qty(
            "wire_balloon_ml",
            "Balloon volume, as stated on it",
            "mL",
            "0.1",
            "R",
            hard="0..3",
            asked_when=_BALLOON,
        ),
        qty("wire_spacing", "Electrode spacing", "mm", "0.5", "R"),
        text("wire_ring_code", "Ring code", "R", hint="Rings at 10 cm, 20 cm, …"),
        text("wire_lot", "Lot", "R"),
        date("wire_expiry", "Expiry", "R"),
    ),
)
