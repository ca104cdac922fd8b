"""The eight published cases with one thing more told: what "Expected" names of it.

Source: published cases CR-01 to CR-08; the sentence stands beside each expectation.
"""

from __future__ import annotations

import pytest

from tests.support.published import entries_until, published_and, published_case
from tests.support.published_remarks import (
    POLICY,
    adds,
    open_paths,
    says,
    standing,
    told,
    typed,
)
from webapp.clinical.due import next_due
from webapp.clinical.dwell import Dwell, dwell
from webapp.clinical.readings import threshold_summary


def test_an_emergency_exception_asks_for_its_fields():
    # CR-01: "emergency exception fields asked for (threat, who was sought, no known
    # refusal)"; "place of service asked, not derived".
    case = published_and("CR-01", [says("consent.basis", value="emergency_exception")])
    fields = ("consent.threat", "consent.who_sought", "consent.known_refusal")
    assert open_paths(case) >= {*fields, "patient.place_of_care"}


def test_low_pressure_despite_capture_stays_silent():
    # CR-02: "low pressure despite capture opens no 'Capture lost'".
    low = adds("indication.observations", systolic=typed("low", "mm[Hg]"))
    assert told(published_and("CR-02", [low])) == []


def test_a_refusal_of_the_other_procedure_contradicts_nothing():
    # CR-02: "the refusal belongs to the other procedure: consent for this one stands".
    consents = says("consent.basis", value="patient")
    assert told(published_and("CR-02", [consents])) == []


def test_own_rhythm_back_and_no_longer_needed_raises_nothing():
    # CR-02: "own rhythm trend complete block → first-degree (PR 280, then 204 ms) with
    # 'still needed?' turning to no".
    back = {"result": "rhythm", "rhythm": "first_degree_av_block"}
    more = [
        adds("wires/@w1/checks.own_rhythm", **back, pr=typed("280", "ms")),
        adds("wires/@w1/checks.check", still_needed="no"),
        adds("wires/@w1/checks.own_rhythm", **back, pr=typed("204", "ms")),
    ]
    assert told(published_and("CR-02", more)) == []


def test_a_wire_out_on_the_third_day_lay_about_three_days_never_72_hours():
    # CR-02: "dwell 'about 3 days, hours not known', never 72 h".
    out = {"day": "2026-05-17"}
    more = [
        adds("wires/@w1/capture.dial_left_at", when_kind="final"),
        says("wires/@w1/removal.removed_at", value=out),
    ]
    case = published_and("CR-02", more)
    assert dwell(case.fold, case.wires[0].id) == Dwell(None, 3, True)


def test_potassium_taken_as_mmol_says_that_capture_may_fail():
    # CR-03: "taken as 7.3 mmol/L it lies outside the soft range, with the remark that
    # threshold may be raised and capture may fail until potassium falls".
    potassium = adds("patient.laboratory", potassium=typed("7.3", "mmol/L"))
    high = ("Potassium 7.3 mmol/L: capture may fail", "look_again", True)
    assert high in told(published_and("CR-03", [potassium]))


def test_a_faster_rate_since_puts_the_recurrence_right():
    # CR-04: "target rate must be able to change many times with a reason".
    faster = adds("wires/@w1/capture.dial_left_at", rate=typed("110", "/min"))
    assert standing(published_and("CR-04", [faster])) == []


def test_a_wire_that_is_out_has_nothing_due():
    # CR-07: "Wire 1, right neck, closed".
    case = published_case("CR-07")
    assert next_due(case.fold, case.wires[0].id, POLICY) == []


def test_a_lead_at_home_is_checked_in_days():
    # CR-07: "check interval in days"; 7 d are 168 h.
    more = [
        says("finish.check_interval", value=typed("7", "d")),
        adds("wires/@w2/checks.check", electrical_capture="yes"),
    ]
    case = published_and("CR-07", more)
    [due] = next_due(case.fold, case.wires[1].id, POLICY)
    assert (due.kind, due.hours) == ("look_check", 168)


def test_a_threshold_in_volts_stays_in_volts():
    # CR-07: "a threshold in volts kept in volts with pulse width, never on a trend
    # with milliamps, no conversion without measured impedance".
    test, width = "wires/@w2/capture.threshold_test", typed("0.4", "ms")
    reading = "wires/@w2/capture.output_reading"
    more = [
        {**adds(test, kind="full", pulse_width=width), "as": "t1"},
        adds(reading, of="@t1", output_v=typed("1.0", "V"), result="captures"),
        adds(reading, of="@t1", output_v=typed("0.9", "V"), result="no_capture"),
    ]
    first = entries_until("CR-07", "wires/@w2/approach.site")
    case = published_and("CR-07", more, first)
    summary = threshold_summary(case.fold, case.wires[1].id, POLICY)
    [one] = summary.tests
    assert (one.result.threshold, one.told.unit) == ("1", "V")


@pytest.mark.parametrize(
    ("with_it", "expected"),
    [
        # "chest pain alone → no verdict"
        ({}, []),
        # "chest pain with threshold or paced-shape change → Look now, think
        # perforation, ultrasound"
        ({"shape_same": "no"}, ["look_now perforation_shape"]),
    ],
)
def test_chest_pain_is_a_verdict_only_with_a_changed_shape(with_it, expected):
    pain = adds("wires/@w1/checks.check", chest_pain="yes", **with_it)
    first = entries_until("CR-08", "finish.complications_line")
    assert standing(published_and("CR-08", [pain], first)) == expected


@pytest.mark.parametrize(
    ("readings", "expected"),
    [
        # "IVC is no remark"
        ([("20", "ivc"), ("40", "ivc")], []),
        # "Femoral: 65 cm limit": just below it, and at it
        ([("40", "low_ra"), ("50", "rv_free"), ("64", "rv_free")], []),
        (
            [("40", "low_ra"), ("50", "rv_free"), ("65", "rv_free")],
            ["look_again deeper_than_usual"],
        ),
    ],
)
def test_a_femoral_wire_starts_in_the_ivc_and_may_lie_64_cm_deep(readings, expected):
    more = [
        adds("wires/@w1/advance.depth_reading", depth=typed(cm, "cm"), result=result)
        for cm, result in readings
    ]
    first = entries_until("CR-08", "wires/@w1/approach.site")
    found = standing(published_and("CR-08", more, first))
    assert [one for one in found if "fits" not in one] == expected
