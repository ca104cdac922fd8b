"""Views, place of service and hospital times, from status and moments only."""

from __future__ import annotations

from datetime import date

import pytest

from tests.support.records import Recording, case_of
from webapp.coding.dates import iso_minutes, local, local_day, span_of
from webapp.coding.rules import load_rules
from webapp.coding.sheet import make_judge
from webapp.coding.site import SiteCoding
from webapp.coding.stay import views_of
from webapp.coding.tables import load_tables

NEW_YORK = "America/New_York"
JUDGE = make_judge(load_rules(), load_tables(), SiteCoding(zone=NEW_YORK))


def moment(utc: str, certainty: str = "exact") -> dict:
    return {
        "utc": utc,
        "zone": NEW_YORK,
        "offset_min": -240,
        "certainty": certainty,
        "clock": "tablet",
    }


def place_of(answers: dict) -> str:
    return JUDGE.sheet(case_of(answers.items())).place_of_service


START = moment("2026-05-14T07:12:00.000Z")
BEFORE, AFTER = moment("2026-05-14T06:00:00.000Z"), moment("2026-05-14T09:40:00.000Z")
STATUS, GIVEN, AT = (
    "patient.status",
    "patient.inpatient_order_given",
    "patient.inpatient_order",
)

# Source: coding rules, pos-status: emergency -> 23; boarder with an inpatient order
# -> 21; observation on a ward -> 22; the order moment is needed; else a question.
PLACES = {
    "emergency, no order yet": ({STATUS: "emergency", GIVEN: "none_yet"}, "23"),
    "emergency, order later": ({STATUS: "emergency", GIVEN: "given", AT: AFTER}, "23"),
    "boarder": ({STATUS: "emergency", GIVEN: "given", AT: BEFORE}, "21"),
    "inpatient": ({STATUS: "inpatient"}, "21"),
    "observation": ({STATUS: "observation", GIVEN: "none_yet"}, "22"),
    "emergency, order not asked": ({STATUS: "emergency"}, ""),
    "order given, no moment": ({STATUS: "emergency", GIVEN: "given"}, ""),
    "transport": ({STATUS: "in_transport", GIVEN: "none_yet"}, ""),
    "not known": ({STATUS: "not_known", GIVEN: "none_yet"}, ""),
    "nothing": ({}, ""),
    "room only": ({"patient.place_of_care": "emergency_room"}, ""),
}


@pytest.mark.parametrize(("answers", "pos"), PLACES.values(), ids=list(PLACES))
def test_the_place_follows_status_and_order(answers, pos):
    assert place_of({**answers, "approach.first_puncture": START}) == pos


def test_an_order_of_an_earlier_day_stands_before_the_procedure():
    order = {"day": "2026-05-13", "certainty": "day"}
    answers = {STATUS: "observation", GIVEN: "given", AT: order}
    assert place_of({**answers, "approach.first_puncture": START}) == "21"


def test_an_order_of_the_same_day_without_an_hour_decides_nothing():
    order = {"day": "2026-05-14", "certainty": "day"}
    answers = {STATUS: "emergency", GIVEN: "given", AT: order}
    assert place_of({**answers, "approach.first_puncture": START}) == ""


def test_without_a_start_an_order_moment_decides_nothing():
    assert place_of({STATUS: "emergency", GIVEN: "given", AT: BEFORE}) == ""


VIEWS = {
    "nothing said": ({}, ("professional", "inpatient", "outpatient")),
    "inpatient": ({STATUS: "inpatient"}, ("professional", "inpatient")),
    "order given": ({GIVEN: "given"}, ("professional", "inpatient")),
    "order moment": ({AT: AFTER}, ("professional", "inpatient")),
    "emergency, no order yet": (
        {STATUS: "emergency", GIVEN: "none_yet"},
        ("professional", "inpatient", "outpatient"),
    ),
    "other outpatient": (
        {STATUS: "outpatient", GIVEN: "none_yet"},
        ("professional", "outpatient"),
    ),
}


@pytest.mark.parametrize(("answers", "views"), VIEWS.values(), ids=list(VIEWS))
def test_the_facility_view_follows_the_status(answers, views):
    assert views_of(case_of(answers.items())) == views


def test_two_answers_about_the_status_settle_nothing():
    record = Recording()
    record.says(STATUS, "inpatient")
    record.says(STATUS, "emergency")
    assert JUDGE.sheet(record.case).place_of_service == ""
    assert len(views_of(record.case)) == 3


def test_an_evening_stays_on_its_own_day():
    # 23:50 in Toronto on 1 March is 2 March in UTC: the shown day must not move.
    late = moment("2026-03-02T04:50:00.000Z")
    assert local_day(late, "America/Toronto") == date(2026, 3, 1)
    assert iso_minutes(local(late, "America/Toronto")) == "2026-03-01T23:50-05:00"


def test_the_repeated_hour_keeps_its_offset():
    # New York, 1 November 2026: 01:30 comes twice, first at -04:00, then at -05:00.
    first, second = (
        iso_minutes(local(moment(f"2026-11-01T0{hour}:30:00.000Z"), NEW_YORK))
        for hour in (5, 6)
    )
    assert (first, second) == ("2026-11-01T01:30-04:00", "2026-11-01T01:30-05:00")


def test_a_span_without_a_start_has_the_day_of_its_stop():
    span = span_of(case_of([("finish.dressing_on", AFTER)]), NEW_YORK)
    assert (span.day, span.start, span.certainty) == (date(2026, 5, 14), None, "")
    assert iso_minutes(span.stop) == "2026-05-14T05:40-04:00"


def test_a_start_of_which_only_the_day_is_known_gives_no_hour():
    day = {"day": "2026-05-14", "certainty": "day"}
    pairs = [("approach.first_puncture", day), ("finish.dressing_on", AFTER)]
    span = span_of(case_of(pairs), NEW_YORK)
    assert (span.day, span.start, span.stop) == (date(2026, 5, 14), None, None)
    assert span.certainty == "day"


def test_one_time_that_is_about_makes_the_span_about():
    about = moment("2026-05-14T09:40:00.000Z", "about")
    pairs = [("approach.first_puncture", BEFORE), ("finish.dressing_on", about)]
    assert span_of(case_of(pairs), NEW_YORK).certainty == "about"


def test_two_answers_for_the_start_are_no_start():
    record = Recording()
    record.says("approach.first_puncture", BEFORE)
    record.says("approach.first_puncture", AFTER)
    assert span_of(record.case, NEW_YORK).day is None


@pytest.mark.parametrize(
    "value", [None, "text", {}, {"utc": "soon"}, {"as": "x", "certainty": "unreadable"}]
)
def test_what_is_no_moment_has_no_day(value):
    assert local_day(value, NEW_YORK) is None
    assert iso_minutes(local(value, NEW_YORK)) == ""
