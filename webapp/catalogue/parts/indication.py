"""Indication: why this patient needs a wire, cautions, and the own rhythm first."""

from __future__ import annotations

from webapp.catalogue.declare import equals, group, moment, yn
from webapp.catalogue.model import Part, Section
from webapp.catalogue.parts.indication_care import (
    ARREST,
    DRUGS,
    OBSERVATIONS,
    SKIN_PACING,
)
from webapp.catalogue.parts.indication_why import CAUSE, EFFECT, RHYTHM
from webapp.catalogue.parts.shared_groups import BEGUN, OWN_RHYTHM

CAUTIONS = Section(
    "Cautions",
    (
        yn("caution_mechanical_tricuspid", "Mechanical tricuspid valve", "R"),
        yn(
            "caution_tricuspid_repair",
            "Tricuspid bioprosthesis, repair or clip",
            "R",
        ),
        yn("caution_tricuspid_device", "Other tricuspid device", "R"),
        yn("caution_left_bundle_block", "Left bundle branch block before", "R"),
        yn("caution_heart_transplant", "Heart transplant", "R"),
        yn("caution_permanent_leads", "Permanent leads", "R"),
        moment(
            "permanent_leads_implanted",
            "Permanent leads implanted",
            "R",
            asked_when=equals("indication.caution_permanent_leads", "yes"),
        ),
        yn("caution_vena_cava_filter", "Vena cava filter", "R"),
        yn("caution_severe_hypothermia", "Severe hypothermia", "R"),
        yn("caution_bleeding_tendency", "Bleeding tendency", "R"),
        yn("caution_thrombolysis", "Thrombolysis", "R"),
        moment(
            "thrombolysis_at",
            "Thrombolysis when",
            "R",
            asked_when=equals("indication.caution_thrombolysis", "yes"),
        ),
        yn("caution_infected_skin", "Infected skin at the site", "R"),
        yn("caution_digoxin_toxicity", "Digoxin toxicity", "R"),
        yn(
            "caution_vegetation_or_shunt",
            "Right-heart vegetation or shunt",
            "R",
        ),
        yn(
            "caution_vein_blocked",
            "Vein blocked, device leads or fistula on that side",
            "R",
        ),
        yn("caution_organophosphate", "Organophosphate poisoning", "R"),
        yn("caution_refusal_before", "Refusal or prior decision", "R"),
    ),
)

OWN = Section(
    "Own rhythm first",
    (
        group(
            "own_rhythm",
            "Own rhythm before pacing",
            "R H",
            *OWN_RHYTHM,
            hint="Before the first output reading",
            asked_when=BEGUN,
        ),
    ),
)

PART = Part(
    "indication",
    "Indication",
    (RHYTHM, EFFECT, CAUSE, ARREST, OBSERVATIONS, DRUGS, SKIN_PACING, CAUTIONS, OWN),
)
