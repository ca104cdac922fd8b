"""What kit, depth, patterns and balloon look for is what the catalogue has."""

from __future__ import annotations

from fractions import Fraction

import pytest

from webapp.catalogue import CATALOGUE
from webapp.clinical import policy
from webapp.clinical.balloon import AT_END
from webapp.clinical.balloon_volume import HARD_ML
from webapp.clinical.bands import BANDS
from webapp.clinical.cold import HARD_CEL
from webapp.clinical.deep import deep_limit_key
from webapp.clinical.guidance import GAINS, results_for
from webapp.clinical.kit_remarks import HARD_SHEATH_FR, HARD_WIRE_FR
from webapp.clinical.sites import SITES
from webapp.clinical.way import CHAMBERS

READ = {
    "wires/w/advance.depth_reading": (
        *("depth", "read_at", "result", "balloon", "balloon_ml", "st_mm", "st_gain"),
        *("rings_out", "cm_beyond"),
    ),
    "wires/w/advance.balloon": ("state", "left_ml", "air_back"),
    "wires/w/advance.resistance": ("depth",),
    "wires/w/advance.vt_vf": ("rhythm", "pulse", "ended_by"),
    "wires/w/advance.new_pass": (),
    "wires/w/advance.p_waves": (),
    "wires/w/advance.final_depth": (),
    "wires/w/approach.chamber": (),
    "wires/w/approach.introducer_length": (),
    "wires/w/approach.introducer_vasopressor": (),
    "wires/w/approach.introducer_side_port": (),
    "wires/w/approach.wire_ring_code": (),
    "wires/w/capture.electrical_capture": (),
    "wires/w/checks.check": ("depth", "balloon", "electrical_capture"),
    "approach.dilator_at": (),
    "approach.venous_proof": (),
    "approach.venous_proof_at": (),
    "finish.balloon_at_end": (),
    "finish.balloon_left_ml": (),
    "indication.caution_left_bundle_block": (),
    "indication.caution_mechanical_tricuspid": (),
    "indication.caution_permanent_leads": (),
    "indication.caution_severe_hypothermia": (),
    "indication.caution_tricuspid_repair": (),
    "indication.caution_vena_cava_filter": (),
    "indication.permanent_leads_implanted": (),
    "patient.temperature": (),
}


def choices(path: str, child: str = "") -> set[str]:
    field = CATALOGUE.field(path)
    assert field is not None
    asked = field.child(child) if child else field
    assert asked is not None
    return {choice.code for choice in asked.choices}


def test_every_field_that_is_read_is_in_the_catalogue() -> None:
    missing = [
        f"{path} {child}"
        for path, children in READ.items()
        for child in children or ("",)
        if (field := CATALOGUE.field(path)) is None
        or (child and field.child(child) is None)
    ]
    assert missing == []


def test_every_code_that_is_looked_for_is_a_choice_of_the_catalogue() -> None:
    reading = "wires/w/advance.depth_reading"
    results = choices(reading, "result")
    guides = choices(reading, "guided_by")
    assert set(CHAMBERS) <= results
    assert set(GAINS) == choices(reading, "st_gain")
    assert set(SITES) <= choices("wires/w/approach.site")
    assert {"up", "down", "some_left", "not_balloon"} == choices(AT_END)
    told = {one for guide in guides for one in results_for(guide, "yes")}
    assert told | set(results_for("intracardiac_ecg", "none")) == results - {"other"}


def test_every_site_with_bands_has_a_limit_in_the_policy() -> None:
    rows = policy.load().rows
    assert set(BANDS) == set(SITES.values())
    assert {deep_limit_key(*place) for place in BANDS} == {
        key for key in rows if key.startswith("deep_limit_cm.")
    }


@pytest.mark.parametrize(
    ("path", "hard"),
    [
        ("wires/w/approach.introducer_fr", HARD_SHEATH_FR),
        ("wires/w/approach.wire_fr", HARD_WIRE_FR),
        ("wires/w/approach.wire_balloon_ml", HARD_ML),
        ("finish.balloon_left_ml", HARD_ML),
        ("patient.temperature", HARD_CEL),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_what_counts_as_possible_is_what_the_catalogue_says(path, hard) -> None:
    field = CATALOGUE.field(path)
    assert field is not None
    assert field.hard is not None
    assert hard == (Fraction(field.hard.low), Fraction(field.hard.high))


@pytest.mark.parametrize("place", BANDS, ids=" ".join)
def test_the_bands_of_a_place_deepen_and_end_before_its_limit(place) -> None:
    bands = BANDS[place]
    limit = Fraction(policy.load().rows[deep_limit_key(*place)].value)
    assert list(bands) == sorted(bands)
    assert all(low < high < limit for low, high in bands)
