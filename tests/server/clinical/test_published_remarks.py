"""The eight published cases give exactly the remarks and values named for them.

Source: published cases CR-01 to CR-08, "Expected"; the sentence stands beside each
expectation, in its words. Codes of the same cases: tests/server/coding.
"""

from __future__ import annotations

import pytest

from tests.support.published import entries_until, published_case
from tests.support.published_remarks import (
    POLICY,
    asked,
    found_in,
    open_paths,
    standing,
    told,
)
from webapp.clinical.dwell import Dwell, dwell
from webapp.clinical.mean_pressure import mean_pressure
from webapp.clinical.remarks import asks
from webapp.clinical.told import Told
from webapp.say import SAY

NOW, AGAIN = "look_now", "look_again"
STANDS, PUT_RIGHT = True, False

# For each case: what is found, how heavy, does it stand; and why it is expected.
EXPECTED: dict[str, list[tuple[str, str, bool]]] = {
    "CR-01": [
        # "dose not stated → 'at least, no total'"
        ("Atropine given, dose not stated: no total", AGAIN, STANDS),
        # "remark that a pulse felt under pads may be muscle twitch and mechanical
        # capture wants a second sign"
        ("A pulse under pads may be muscle twitch", AGAIN, STANDS),
        # "both capture readings kept with person and moment, neither overwrites"
        ("Skin pacing: readings of capture disagree", AGAIN, STANDS),
    ],
    # "urgency 'urgent' accepted with a stable pressure; no remark against it";
    # "consent for this one stands, no contradiction"; "low pressure despite capture
    # opens no 'Capture lost'"
    "CR-02": [],
    "CR-03": [
        # "7.3 mg/dL kept as typed and asked, never converted silently";
        # "35.6 Cel accepted": nothing is said of it
        ("Potassium 7.3 mg/dL: mmol/L meant?", AGAIN, STANDS),
    ],
    "CR-04": [
        # "the recurrence logged with moment and the rate at that time"; "100 /min
        # accepted without an overdrive remark"; "no 'Capture lost', no complication"
        ("Torsades again at 100 /min", AGAIN, STANDS),
    ],
    "CR-05": [
        # "98.8 without unit kept as typed, marked impossible in Cel, question
        # 'degrees F?'"
        ("Temperature 98.8 without unit: degrees F?", AGAIN, STANDS),
        # "INR an open question, remark on a compressible site"
        ("On warfarin, INR not known", AGAIN, STANDS),
    ],
    "CR-06": [
        # "resistance key"; the wire is out by now: told, silent at the bedside
        ("Resistance, or cannot be moved", NOW, PUT_RIGHT),
        # "45 cm by right neck without capture = Look now 'coil, loop or too deep'"
        ("45 cm: coil, loop or too deep?", NOW, PUT_RIGHT),
        # "ending 'surgical or catheter removal elsewhere', site femoral, resistance
        # yes": nothing left to stop
        ("Resistance as it came out", NOW, PUT_RIGHT),
        # "complication 'knot or coil', moment, action, outcome, cause as stated"
        ("Complication: cause not stated", AGAIN, STANDS),
    ],
    # "Wire 1, right neck, closed with its own dwell"; "Wire 2 opened", "went home":
    # nothing contradicts that, and the patient is who receives
    "CR-07": [],
    "CR-08": [
        # "cause left cannot tell until a named clinician states it": of the
        # perforation, and of the tamponade; "chest pain alone → no verdict"
        ("Complication: cause not stated", AGAIN, STANDS),
        ("Complication: cause not stated", AGAIN, STANDS),
    ],
}


@pytest.mark.parametrize("name", EXPECTED)
def test_a_published_case_gives_exactly_the_remarks_told_of_it(name):
    assert told(published_case(name)) == EXPECTED[name]


def test_a_second_sign_is_asked_for_a_pulse_under_pads():
    # CR-01: "mechanical capture wants a second sign".
    second = "Policy asks: a second sign, by pleth, arterial line or ultrasound."
    assert asked(published_case("CR-01"), "pulse_may_twitch") == second


def test_readings_that_disagree_rest_on_both():
    # CR-01: "neither overwrites the other".
    case = published_case("CR-01")
    [one] = [f for f in found_in(case) if f.remark.code == "skin_readings_disagree"]
    rows = case.rows("indication.skin_pacing_reading")
    assert one.evidence == tuple(row.id for row in rows[:2])


def test_an_elderly_adult_by_look_gets_adult_rows_age_not_known():
    # CR-01: "age class by look 'elderly adult' (adult rows, 'age not known')".
    age = Told(published_case("CR-01").fold, POLICY).age
    assert (age.is_adult, age.age_known) == (True, False)


def test_the_mean_pressure_computed_agrees_with_the_one_printed():
    # CR-03: "mean pressure computed from 80/40 = 53 mmHg, named as computed, agrees
    # with print".
    [row] = published_case("CR-03").rows("indication.observations")
    assert mean_pressure(row.value["systolic"], row.value["diastolic"]) == "53"


def test_both_kidney_stages_are_kept():
    # CR-03: "both kidney stages kept as two answers".
    rows = published_case("CR-03").rows("patient.kidney_disease")
    assert [row.value["stage"] for row in rows] == ["stage_3", "stage_4"]


def test_the_first_of_two_wires_lay_about_six_days():
    # CR-07: "closed with its own dwell (admission to day 6, about 6 days)"; "the same
    # record needs two dwell times": the second is not out in its readable part.
    case = published_case("CR-07")
    first, second = (dwell(case.fold, wire.id) for wire in case.wires)
    assert (first, second) == (Dwell(None, 6, True), None)


def test_what_is_asked_after_torsades_again():
    # CR-04: "sensing must be safe with long QT, rate may go up, magnesium".
    said = "Policy asks: sensing checked for a long QT, a faster rate, magnesium."
    assert asked(published_case("CR-04"), "torsades_again") == said


def test_low_with_no_figure_is_no_number():
    # CR-04: "'low, no figure' storable for K and Mg".
    [row] = published_case("CR-04").rows("patient.laboratory")
    assert row.value["potassium"]["special"] == "low"
    assert row.value["magnesium"]["special"] == "low"


def test_a_compressible_site_is_asked_where_the_inr_is_not_known():
    # CR-05: "INR an open question, remark on a compressible site".
    site = "Policy asks: ultrasound, and a site that can be pressed."
    assert asked(published_case("CR-05"), "warfarin_no_inr") == site


def test_a_wire_not_started_is_asked_nothing_of_settings_or_capture():
    # CR-05: "not asked: settings, capture, outcome beyond 'not started in this
    # record'".
    parts = {
        path.rpartition("/")[2].split(".")[0]
        for path in open_paths(published_case("CR-05"))
    }
    assert not parts & {"approach", "advance", "capture", "handover", "checks"}


def test_the_entrapped_wire_says_look_now_while_it_lies_there():
    # CR-06: "exactly 45 is inside the rule"; "outcome 'given up, wire cannot be
    # removed'; record closable, wire in, not capturing".
    case = published_case("CR-06", entries_until("CR-06", "finish.outcome"))
    assert standing(case) == ["look_now resistance", "look_now too_deep_coil"]


def test_the_limit_that_the_entrapped_wire_reached_is_told_with_what_is_asked():
    # CR-06: "policy asks: stop, do not pull, film".
    case = published_case("CR-06")
    [deep] = [f for f in found_in(case) if f.remark.code == "too_deep_coil"]
    assert deep.remark.limits == ("deep_limit_cm.neck_right",)
    assert asks(deep.remark, SAY) == "Policy asks: stop, do not pull, film."


def test_the_quiet_wire_has_no_remark_when_its_first_note_is_signed():
    # CR-08: "the signed note stays as it was ('None seen up to …')".
    signed = entries_until("CR-08", "finish.complications_line")
    assert told(published_case("CR-08", signed)) == []
