"""Hard and soft ranges, steps and units stand as the field list has them."""

from __future__ import annotations

import pytest

from tests.server.catalogue.walk import fields
from webapp.catalogue.model import Range

BY_PATH = dict(fields())
C = "wires/*/capture."

# path, first unit, step, hard, soft; from the list of fields, row by row.
LIMITS = [
    ("patient.gestation", "wk", "1", "20..44", ""),
    ("patient.weight", "kg", "0.1", "0.2..700", "30..200"),
    ("patient.height", "cm", "1", "20..275", "130..210"),
    ("patient.temperature", "Cel", "0.1", "10..47", "32..38.5"),
    ("patient.laboratory.potassium", "mmol/L", "0.1", "0.5..20", "3.5..5.5"),
    ("patient.laboratory.magnesium", "mmol/L", "0.01", "0..20", ""),
    ("patient.laboratory.inr", "", "0.1", "0.5..30", ""),
    ("patient.laboratory.platelets", "10*9/L", "1", "0..6000", ""),
    ("patient.laboratory.ph", "", "0.01", "6..8", ""),
    ("patient.pregnancy_weeks", "wk", "1", "1..44", ""),
    ("indication.qtc", "ms", "1", "100..1000", ""),
    ("indication.observations.heart_rate", "/min", "1", "0..350", ""),
    ("indication.observations.systolic", "mm[Hg]", "1", "0..350", ""),
    ("indication.observations.spo2", "%", "1", "0..100", ""),
    ("indication.observations.breaths", "/min", "1", "0..80", ""),
    ("indication.skin_pacing.output", "mA", "1", "0..200", ""),
    ("wires/*/approach.introducer_fr", "[Ch]", "0.5", "3..14", ""),
    ("wires/*/approach.wire_fr", "[Ch]", "0.5", "2..8", ""),
    ("wires/*/approach.wire_balloon_ml", "mL", "0.1", "0..3", ""),
    ("wires/*/advance.depth_reading.depth", "cm", "1", "0..125", ""),
    ("wires/*/advance.final_depth", "cm", "0.5", "0..125", ""),
    (f"{C}dial_left_at.rate", "/min", "1", "0..800", "30..150"),
    (f"{C}dial_left_at.output", "mA", "0.1", "0..25", ""),
    (f"{C}dial_left_at.output_v", "V", "0.1", "0..20", ""),
    (f"{C}dial_left_at.pulse_width", "ms", "0.01", "", ""),
    (f"{C}dial_left_at.sensitivity", "mV", "0.1", "0.1..30", ""),
    (f"{C}output_reading.output", "mA", "0.1", "0..25", ""),
    (f"{C}impedance", "Ohm", "1", "50..10000", "200..2000"),
    (f"{C}overdrive.rate", "/min", "1", "0..800", ""),
    ("finish.blood_loss_ml", "mL", "1", "", ""),
    ("approach.local_anaesthetic.volume", "mL", "0.1", "", ""),
]


def _told(limits: Range | None) -> str:
    return f"{limits.low}..{limits.high}" if limits else ""


@pytest.mark.parametrize(
    ("path", "unit", "step", "hard", "soft"), LIMITS, ids=[row[0] for row in LIMITS]
)
def test_a_quantity_has_its_unit_step_and_ranges(
    path: str, unit: str, step: str, hard: str, soft: str
) -> None:
    field = BY_PATH[path]
    told = (field.unit, field.step, _told(field.hard), _told(field.soft))
    assert told == (unit, step, hard, soft)


def test_only_weight_and_height_have_soft_ranges_of_adults() -> None:
    adult = {path for path, field in fields() if field.soft_ages == "adult"}
    assert adult == {"patient.weight", "patient.height"}


def test_the_same_reading_has_the_same_hard_range_wherever_it_is_asked() -> None:
    kinds = {"sensitivity": "mV", "output_v": "V", "depth": "cm", "systolic": "mm[Hg]"}
    for name, unit in kinds.items():
        found = {
            _told(field.hard)
            for path, field in fields()
            if path.endswith(f".{name}") and field.unit == unit
        }
        assert len(found) == 1, (name, found)


def test_the_settings_read_at_a_check_are_asked_as_in_capture() -> None:
    for name in ("dial_left_at", "threshold_test", "output_reading", "own_rhythm"):
        here, there = BY_PATH[f"{C}{name}"], BY_PATH[f"wires/*/checks.{name}"]
        assert here.children == there.children
