"""Page 1: the numbers with their times, and what is missing, before anything else."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.notes import made, made_from, quantity, told_case
from tests.support.records import ZONE, Recording
from webapp.clinical.policy import load
from webapp.note.sources import sources_of
from webapp.note.summary import Summary, summary


def told(record: Recording) -> Summary:
    return summary(sources_of(record.case, load()))


def figures(record: Recording) -> dict[str, Any]:
    names = ("depth", "threshold", "output", "rate")
    return dict(zip(names, told(record).wires[0].figures, strict=True))


def reads_outputs(record: Recording, wire: str, *outputs: tuple[str, str]) -> None:
    under = f"wires/{wire}/capture"
    test = record.adds(f"{under}.threshold_test", {"kind": "full"})
    for output, result in outputs:
        value = {"of": test, "output": quantity(output, "mA"), "result": result}
        record.adds(f"{under}.output_reading", value)


def left_at(record: Recording, wire: str, output: str, **more: Any) -> None:
    person = {"person": None, "name": "K. Ouse-Example"}
    value = {
        "when_kind": "final", "mode": "vvi", "rate": quantity("80", "/min"),
        "output": quantity(output, "mA"), "sensitivity": quantity("2", "mV"),
        "read_back_by": person, **more,
    }  # fmt: skip
    record.adds(f"wires/{wire}/capture.dial_left_at", value)


V1B = (("2.0", "captures"), ("1.0", "captures"), ("0.8", "no_capture"),
       ("0.9", "captures"), ("1.0", "captures"))  # fmt: skip


def test_the_complete_case_fits_its_first_page_with_times_and_gaps() -> None:
    page = made_from("demo/1-clean-emergency").pages[0].text
    for words in ("34", "1.2", "3.0", "80", "cm at sheath hub, 10:49",
                  "Threshold, 10:44", "State on leaving, as at 11:07", "First puncture",
                  "None seen up to 11:02", "Still awaited: 12-lead", "Consent", "Plan",
                  "Not recorded", "Read the generator"):  # fmt: skip
        assert words in page, words


def test_a_label_of_two_lines_does_not_lie_over_its_number() -> None:
    """Read back on a later day, the dial's label takes a second line."""
    page = made_from("demo/3-complication").pages[0]
    numbers = [letter for letter in page.letters if letter.size > 30]
    second = [line for line in page.lines if line.text.strip() == "21:20"]
    assert len(second) == 1
    # The box of a figure of 36 points reaches some points above its ink.
    assert second[0].y0 >= max(number.y1 for number in numbers) - 3


def test_depth_threshold_output_and_rate_stand_with_units_and_sources() -> None:
    record = Recording()
    depth = {"advance.final_depth": quantity("34", "cm"),
             "advance.final_read_how": "on_ring",
             "approach.site": "internal_jugular_right"}  # fmt: skip
    wire = record.wire(depth)
    reads_outputs(record, wire, *V1B)
    left_at(record, wire, "3")
    found = figures(record)
    assert (found["depth"].amount, found["depth"].unit) == ("34", "cm")
    assert found["depth"].note == "internal jugular, right, on a ring"
    # clinical.md V1b: threshold 0.9, bracket 0.8 to 0.9, on the way up.
    assert (found["threshold"].amount, found["threshold"].unit) == ("0.9", "mA")
    assert found["threshold"].note == "on the way up, lost at 0.8"
    assert (found["output"].amount, found["output"].unit) == ("3.0", "mA")
    assert "margin 3.3 ×" in found["output"].note
    assert found["output"].label.startswith("Dial left at, read back ")
    assert (found["rate"].amount, found["rate"].unit) == ("80", "/min")
    assert found["rate"].note == "VVI, sensitivity 2\u00a0mV"


def test_a_loss_not_sought_is_a_bound_and_never_a_threshold() -> None:
    """clinical.md V1d."""
    record = Recording()
    wire = record.wire({})
    reads_outputs(record, wire, ("2.0", "captures"), ("1.5", "captures"))
    left_at(record, wire, "3")
    found = figures(record)
    assert found["threshold"].amount == "≤ 1.5"
    assert found["threshold"].note == "loss not sought"
    assert "margin at least 2.0 ×" in found["output"].note


def test_no_capture_gives_no_number_and_an_unknown_margin() -> None:
    """clinical.md V1e."""
    record = Recording()
    wire = record.wire({})
    reads_outputs(record, wire, *[(o, "no_capture") for o in ("5", "10", "20")])
    left_at(record, wire, "20")
    found = figures(record)
    assert found["threshold"].amount == "–"
    assert found["threshold"].note == "no capture up to 20\u00a0mA"
    assert "margin unknown" in found["output"].note
    assert "×" not in found["output"].note


def test_volts_at_another_pulse_width_are_said_not_to_be_comparable() -> None:
    """clinical.md 8: a multiple of the threshold in volts at the same pulse width."""
    record = Recording()
    wire = record.wire({})
    under = f"wires/{wire}/capture"
    width = quantity("1.5", "ms")
    test = record.adds(f"{under}.threshold_test", {"pulse_width": width})
    for output, result in (("1.0", "captures"), ("0.9", "no_capture")):
        value = {"of": test, "output_v": quantity(output, "V"), "result": result}
        record.adds(f"{under}.output_reading", value)
    dial = {"output_v": quantity("2.5", "V"), "pulse_width": quantity("0.4", "ms")}
    record.adds(f"{under}.dial_left_at", {"when_kind": "final", **dial})
    note = figures(record)["output"].note
    assert note == "0.4\u00a0ms, margin unknown, not comparable: other pulse width"


def test_a_wire_that_moved_after_the_test_makes_threshold_and_margin_unknown() -> None:
    """clinical.md V5."""
    record = Recording()
    wire = record.wire({})
    readings = f"wires/{wire}/advance.depth_reading"
    record.adds(readings, {"depth": quantity("34", "cm"), "read_at": "sheath_hub"})
    reads_outputs(record, wire, *V1B)
    left_at(record, wire, "2.4")
    record.adds(readings, {"depth": quantity("36", "cm"), "read_at": "sheath_hub"})
    found = figures(record)
    assert found["threshold"].amount == "–"
    assert found["threshold"].note == "re-test: wire moved after the test"
    assert "margin unknown" in found["output"].note


def test_two_depths_are_both_in_the_large_number() -> None:
    record = Recording()
    wire = record.wire({"advance.final_depth": quantity("34", "cm")})
    path = f"wires/{wire}/advance.final_depth"
    record.says(path, quantity("36", "cm"), by="nurse")
    assert figures(record)["depth"].amount == "34 or 36"
    assert told(record).wires[0].lie.tip_cm is None
    page = made(record.case).pages[0].text
    assert "Two answers stand" in page
    assert "34 cm (03:00 E. Tarn-Example) or 36 cm (03:00 K. Ouse-Example)" in page


def test_an_impossible_depth_is_no_number_and_no_wire() -> None:
    record = Recording()
    record.wire({"advance.final_depth": quantity("340", "cm")})
    assert figures(record)["depth"].amount == "–"
    assert figures(record)["depth"].note == "impossible as 340 cm"
    assert told(record).wires[0].lie.tip_cm is None


def test_no_final_depth_shows_the_last_one_read_as_what_it_is() -> None:
    record = Recording()
    wire = record.wire({})
    path = f"wires/{wire}/advance.depth_reading"
    record.adds(path, {"depth": quantity("30", "cm"), "result": "rv_free"})
    found = figures(record)["depth"]
    assert found.amount == "–"
    assert found.note == "final depth not asked; last read 30\u00a0cm, 03:00"
    assert not told(record).wires[0].lie.is_final


def test_a_last_depth_without_a_figure_is_told_as_it_was_called() -> None:
    record = Recording()
    wire = record.wire({})
    path = f"wires/{wire}/advance.depth_reading"
    record.adds(path, {"depth": quantity("30", "cm"), "result": "rv_free"})
    below = {"as": "<36", "cmp": "<", "n": "36", "unit": "cm"}
    record.adds(path, {"depth": below, "result": "rv_free"})
    found = figures(record)["depth"]
    assert found.note == "final depth not asked; last read <\u00a036\u00a0cm, 03:00"


def test_a_wire_that_is_out_is_not_drawn_as_lying() -> None:
    record = Recording()
    wire = record.wire({})
    path = f"wires/{wire}/advance.depth_reading"
    record.adds(path, {"depth": quantity("47", "cm"), "result": "ra"})
    record.says("finish.outcome", "given_up_wire_out")
    lie = told(record).wires[0].lie
    assert lie.tip_cm is None
    assert len(lie.marks) == 1


@pytest.mark.parametrize(
    ("outcome", "removed", "in_place"),
    [
        ("capturing_wire_in", False, True),
        ("given_up_cannot_remove", False, True),
        ("given_up_wire_out", False, False),
        ("capturing_wire_in", True, False),
        (None, False, False),
    ],
)
def test_the_wire_is_said_to_be_in_place_only_where_the_record_says_so(
    outcome: str | None, removed: bool, in_place: bool
) -> None:
    record = Recording()
    wire = record.wire({})
    if outcome:
        record.says("finish.outcome", outcome)
    if removed:
        moment = {"utc": "2026-05-16T18:20:00.000Z", "zone": ZONE, "offset_min": -240,
                  "certainty": "exact", "clock": "wall"}  # fmt: skip
        record.says(f"wires/{wire}/removal.removed_at", moment)
    assert told(record).in_place is in_place
    assert ("not for MRI" in made(record.case).pages[0].text) is in_place


def test_capture_readings_that_contradict_each_other_both_stand() -> None:
    """published-cases.md CR-01: pulse felt says yes, ultrasound says no."""
    page = made_from("published/CR-01").pages[0].text
    assert "mechanical capture yes, pulse felt" in page
    assert "mechanical capture no, ultrasound" in page
    assert "output maximum" in page
    assert "dose not stated by crew report" in page


def test_a_signed_none_seen_stands_beside_a_later_complication() -> None:
    """published-cases.md CR-08."""
    record = Recording()
    record.adds("finish.complications_line", {"none_seen": "yes", "awaited": ["film"]})
    later = {"kind": "tamponade", "when_seen": "after", "cause": "cannot_tell"}
    record.adds("finish.complication", later)
    found = told(record).complications
    assert found[0] == "None seen up to (time not stated). Still awaited: film."
    assert found[1].startswith("Tamponade, after, ")
    assert found[1].endswith("cause as stated: cannot tell")


def test_a_cause_nobody_stated_is_not_asked_and_never_assumed() -> None:
    record = Recording()
    record.adds("finish.complication", {"kind": "pneumothorax"})
    assert "cause as stated: not asked" in told(record).complications[0]


def test_without_a_wire_page_1_says_so_and_shows_no_number() -> None:
    record = Recording()
    record.says("finish.outcome", "not_started")
    found = told(record)
    assert found.wires == ()
    page = made(record.case).pages[0].text
    assert "No wire is in this record." in page
    assert "Outcome: not started." in page


def test_what_is_missing_stands_on_page_1_and_in_full_at_the_end() -> None:
    found = made_from("published/CR-01")
    count = sum(
        len(labels)
        for _, labels in summary(
            sources_of(told_case("published/CR-01"), load())
        ).gaps.missing
    )
    assert f"Not recorded, needed: {count}" in found.pages[0].text
    assert "more, listed at the end" in found.pages[0].text
    end = found.text.split("Needed and not asked:")[1]
    for label in ("Guidewires opened", "Time-out", "Right patient", "Mask"):
        assert label in end


def test_more_than_three_wires_send_the_first_to_their_parts() -> None:
    record = Recording()
    for _ in range(5):
        record.wire({"approach.chamber": "rv"})
    found = told(record)
    assert [w.name for w in found.wires] == ["Wire 3", "Wire 4", "Wire 5"]
    assert "Earlier wires, in their parts: 2." in made(record.case).text
