"""Approach: the wire, its way in and its introducer, for each wire."""

from __future__ import annotations

from webapp.catalogue.choices import CHAMBERS, SITES
from webapp.catalogue.declare import (
    OTHER,
    date,
    equals,
    has,
    moment,
    one,
    per_wire,
    pick,
    prose,
    qty,
    some,
    text,
    within,
    yn,
)
from webapp.catalogue.model import Section
from webapp.catalogue.parts.shared_groups import BEGUN

_CAME_WITH = equals("approach.wire_came", "came_with_it")
_IS_OUT = some(
    within("finish.outcome", "given_up_wire_out", "stopped_own_rhythm_back"),
    has("removal.event"),
)
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
            asked_when=BEGUN,
        ),
        text("came_from", "Came from where", asked_when=_CAME_WITH),
        moment("came_placed_at", "Placed there when", asked_when=_CAME_WITH),
        text("came_placed_by", "Placed there by", asked_when=_CAME_WITH),
        prose("came_known", "What is known of it", asked_when=_CAME_WITH),
        text("wire_name", "Name of the wire", "H"),
        one("chamber", "Chamber", CHAMBERS, "N C H", asked_when=BEGUN),
        one("site", "Site and side", SITES, "N4 C H", asked_when=BEGUN),
    ),
)

KIT = Section(
    "Kit",
    per_wire(
        qty(
            "introducer_fr",
            "Introducer",
            "[Ch]",
            "0.5",
            "R H",
            hard="3..14",
            asked_when=BEGUN,
        ),
        qty(
            "introducer_length",
            "Introducer length",
            "cm",
            "0.5",
            "R H",
            asked_when=BEGUN,
        ),
        yn("introducer_side_port", "Side port", "R H", asked_when=BEGUN),
        yn(
            "introducer_capped",
            "Capped when the wire is out",
            "R H",
            asked_when=_IS_OUT,
        ),
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
        qty(
            "wire_fr", "Pacing wire", "[Ch]", "0.5", "R", hard="2..8", asked_when=BEGUN
        ),
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
            asked_when=BEGUN,
        ),
        qty("wire_poles", "Poles", needs="R", asked_when=BEGUN),
        qty("wire_length", "Wire length", "cm", "1", "R", asked_when=BEGUN),
        qty(
            "wire_balloon_ml",
            "Balloon volume, as stated on it",
            "mL",
            "0.1",
            "R",
            hard="0..3",
            asked_when=_BALLOON,
        ),
        qty("wire_spacing", "Electrode spacing", "mm", "0.5", "R", asked_when=BEGUN),
        one(
            "wire_ring_code",
            "Ring code",
            (*pick(every_10_cm="A ring every 10 cm", none="No rings"), OTHER),
            "R",
            hint="Ring n stands n × 10 cm from the tip",
            asked_when=BEGUN,
        ),
        text("wire_lot", "Lot", "R", asked_when=BEGUN),
        date("wire_expiry", "Expiry", "R", years="-30..30", asked_when=BEGUN),
    ),
)
