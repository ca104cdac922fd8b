"""Critical-care minutes: both rules by their table, overlaps shown and never taken."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from tests.support.records import PEOPLE, Recording, small_record
from webapp.coding.critical_care import (
    attendances,
    further_units,
    further_units_cms,
)
from webapp.coding.findings import Finding
from webapp.coding.rules import load_rules
from webapp.coding.sheet import make_judge
from webapp.coding.site import SiteCoding
from webapp.coding.tables import load_tables

NEW_YORK = "America/New_York"
SITE = SiteCoding(zone=NEW_YORK, switches=frozenset(["cpt_enabled"]))
JUDGE = make_judge(load_rules(), load_tables(), SITE)

# Coding rules, section 2b: minutes from, to; units of the first code and of the
# further one, by the publisher's rule and by that of CMS.
TABLE = [
    (0, 29, 0, 0, 0),
    (30, 74, 1, 0, 0),
    (75, 103, 1, 1, 0),
    (104, 104, 1, 1, 1),
    (105, 133, 1, 2, 1),
    (134, 134, 1, 2, 2),
    (135, 163, 1, 3, 2),
    (164, 164, 1, 3, 3),
    (165, 193, 1, 4, 3),
    (194, 194, 1, 4, 4),
]


# The row that follows, by the same rules: 195 to 223 minutes.
LONG = [*TABLE, (195, 223, 1, 5, 4)]


@pytest.mark.parametrize(("low", "high", "first", "publishers", "cms"), TABLE)
def test_further_units_are_those_of_the_table(low, high, first, publishers, cms):
    for minutes in range(low, high + 1):
        assert further_units(minutes) == publishers
        assert further_units_cms(minutes) == cms


@pytest.mark.parametrize("payer", ["commercial", "medicare"])
@pytest.mark.parametrize(("low", "high", "first", "publishers", "cms"), TABLE)
def test_a_line_has_the_units_of_the_table(low, high, first, publishers, cms, payer):
    for minutes in {low, high}:
        lines = offered(attended(("10:00", minutes)), payer)
        assert lines.get("em-critical", "0") == str(first)
        further = {k: v for k, v in lines.items() if k != "em-critical"}
        wanted = cms if payer == "medicare" else publishers
        assert list(further.values()) == ([str(wanted)] if wanted else [])


@pytest.mark.parametrize("payer", ["commercial", "medicare"])
@pytest.mark.parametrize("boundary", [30, 75, 104, 134, 135, 164, 165, 194])
def test_a_minute_beside_a_boundary_is_judged_by_its_own_row(boundary, payer):
    for minutes in (boundary - 1, boundary, boundary + 1):
        [row] = [row for row in LONG if row[0] <= minutes <= row[1]]
        wanted = [str(n) for n in (row[2], row[4 if payer == "medicare" else 3]) if n]
        assert [*offered(attended(("10:00", minutes)), payer).values()] == wanted


@pytest.mark.parametrize("payer", ["commercial", "medicare"])
@pytest.mark.parametrize("boundary", [30, 75, 104, 134])
def test_a_second_short_of_a_boundary_is_a_minute_short(boundary, payer):
    record = Recording()
    last = datetime(2026, 5, 14, 9, 59, 59, tzinfo=UTC)
    spans(record, ("10:00", None), stop=moment(last, boundary))
    short = offered(attended(("10:00", boundary - 1)), payer)
    assert offered(record, payer) == short


def test_94_minutes_less_38_of_other_procedures_are_56():
    # Worked example of the coding rules: 94 total, 20 and 18 stand apart.
    lines = offered(attended(("10:00", 30), ("10:50", 26)), "commercial")
    assert lines == {"em-critical": "1"}


def test_without_a_payer_class_no_further_unit_is_counted():
    record = attended(("10:00", 90))
    found = by_rule(record)
    assert found["em-critical"].state == "candidate"
    more = found["em-critical-more"]
    assert (more.state, more.units) == ("missing", "")
    assert named(more) == ["payer class, which chooses the minute rule"]


def test_the_minutes_within_the_procedure_are_shown_and_asked():
    # The procedure of this record runs from 07:12 to 07:51 UTC.
    record = small_record("wire-one")
    spans(record, ("07:30", 60))
    found = by_rule(record)["em-critical"]
    assert found.state == "missing"
    assert named(found) == [
        "21 min lie between first puncture and dressing: whether they were part of it"
    ]
    assert found.questions == ("q-attendance",)


def test_a_procedure_without_its_times_keeps_the_overlap_open():
    record = Recording()
    record.wire({"approach.wire_came": "new_here"})
    spans(record, ("10:00", 45))
    assert named(by_rule(record)["em-critical"]) == [
        "times of the procedure, to count what overlaps"
    ]


def test_a_wire_that_came_with_the_patient_overlaps_with_nothing():
    record = Recording()
    record.wire({"approach.wire_came": "came_with_it"})
    spans(record, ("10:00", 45))
    assert by_rule(record)["em-critical"].state == "candidate"


def test_the_minutes_of_two_people_are_shown_and_asked():
    record = attended(("10:00", 45))
    spans(record, ("10:30", 40), by="supervisor")
    found = [f for f in judged(record) if f.rule.id == "em-critical"]
    assert [named(f) for f in found] == [
        ["15 min are claimed by another person too: whose they are"]
    ] * 2


def test_two_spans_of_one_person_are_not_counted_twice_unseen():
    found = by_rule(attended(("10:00", 40), ("10:30", 30)))["em-critical"]
    assert named(found) == ["10 min stand in two spans of this person"]


def test_two_people_and_two_dates_are_judged_apart():
    record = attended(("10:00", 40))
    spans(record, ("11:00", 40), by="supervisor")
    spans(record, ("34:00", 40))
    found = [f for f in judged(record) if f.rule.id == "em-critical"]
    assert [f.state for f in found] == ["candidate"] * 3
    assert len({f.subject for f in found}) == 3


def test_spans_of_one_person_and_date_are_one_line_with_all_their_entries():
    record = attended(("10:00", 20), ("12:00", 20))
    (found,) = [f for f in judged(record) if f.rule.id == "em-critical"]
    assert found.state == "candidate"
    assert len(found.evidence) == 2


def test_over_midnight_it_is_asked_whether_it_went_on():
    # 03:40 UTC is 23:40 at the hospital.
    record = attended(("27:40", 45))
    found = by_rule(record)["em-critical"]
    assert named(found) == ["whether it went on without a break over midnight"]
    record = Recording()
    spans(record, ("27:40", 45), over_midnight="yes")
    assert by_rule(record)["em-critical"].state == "candidate"


def test_a_span_that_ends_at_midnight_does_not_cross_it():
    assert by_rule(attended(("27:15", 45)))["em-critical"].state == "candidate"


def test_the_autumn_hour_is_counted_as_it_ran():
    # 1 November 2026, New York: 00:45 to 03:15 on the wall is 3 h 30 min.
    record = Recording()
    start = datetime(2026, 11, 1, 4, 45, tzinfo=UTC)
    spans(record, (start, 210))
    (one,) = attendances(record.case, NEW_YORK)
    assert one.minutes == 210
    assert one.spans[0].day == date(2026, 11, 1)


def test_a_span_without_its_end_is_missing_its_end():
    record = attended(("10:00", 45))
    spans(record, ("12:00", None))
    assert "start and stop of each span" in named(by_rule(record)["em-critical"])


def test_an_end_before_its_start_is_no_span():
    record = attended(("10:00", -5))
    assert "start and stop of each span" in named(by_rule(record)["em-critical"])


@pytest.mark.parametrize(
    ("left_out", "words"),
    [
        ("organ", "which organ was failing or threatened"),
        ("done", "what was done"),
        (
            "excludes_procedures",
            "that these spans leave out separately reported procedures",
        ),
        ("person", "whose time it was"),
    ],
)
def test_each_statement_is_missed_by_name(left_out, words):
    record = Recording()
    spans(record, ("10:00", 45), without=left_out)
    assert words in named(by_rule(record)["em-critical"])


def test_a_statement_of_somebody_else_waits_for_the_person():
    record = Recording(by="nurse")
    spans(record, ("10:00", 45))
    waits = ["the statement in that person's own entry"]
    assert named(by_rule(record)["em-critical"]) == waits
    entries = [entry.id for entry in record.entries]
    sheet = JUDGE.sheet(record.case, entries)
    signed = [f for f in sheet.findings if f.rule.id == "em-critical"]
    assert [f.state for f in signed] == ["candidate"]


def test_skin_pacing_and_a_film_lie_inside_critical_care_for_the_professional():
    for name, rule in (("skin-pacing", "px-external"), ("report-film", "px-film")):
        record = small_record(name)
        spans(record, ("10:00", 45))
        found = {f.view: f for f in judged(record) if f.rule.id == rule}
        inside = "inside critical care for the professional"
        assert found["professional"].because == inside
        assert found["outpatient"].state == "candidate"


def test_nothing_is_asked_about_modifiers_of_critical_care_that_is_too_short():
    record = small_record("critical-29")
    assert not [f for f in judged(record) if f.rule.id.startswith("md-")]
    found = by_rule(small_record("critical-45"))
    assert found["md-25"].place == "finish.critical_care"


def attended(*told: tuple) -> Recording:
    """Return a record with these spans of the operator: UTC hour, minutes."""
    record = Recording()
    spans(record, *told)
    return record


def spans(record: Recording, *told: tuple, by: str = "operator", **more) -> None:
    """Add spans; an hour past 24 lies on the next day."""
    known = PEOPLE[by]
    person = {"person": None, "name": known["name"], "role": by, "credential": ""}
    without = more.pop("without", "")
    for at, minutes in told:
        row = {
            "person": person,
            "start": moment(at, 0),
            "organ": "heart",
            "done": "as told",
            "excludes_procedures": "yes",
            **more,
        }
        if minutes is not None:
            row["stop"] = moment(at, minutes)
        row.pop(without, None)
        own = {} if record.by == "nurse" else {"by": by}
        record.adds("finish.critical_care", row, **own)


def moment(at: str | datetime, minutes: int) -> dict:
    if isinstance(at, str):
        hour, minute = map(int, at.split(":"))
        day = datetime(2026, 5, 14, tzinfo=UTC)
        at = day + timedelta(hours=hour, minutes=minute)
    utc = at + timedelta(minutes=minutes)
    return {
        "utc": utc.strftime("%Y-%m-%dT%H:%M:%S.000Z"),
        "zone": NEW_YORK,
        "offset_min": -240,
        "certainty": "exact",
        "clock": "tablet",
    }


def judged(record: Recording) -> tuple[Finding, ...]:
    return JUDGE.sheet(record.case).findings


def by_rule(record: Recording) -> dict[str, Finding]:
    return {f.rule.id: f for f in judged(record)}


def named(finding: Finding) -> list[str]:
    return [one.words for one in finding.missing]


def offered(record: Recording, payer: str) -> dict[str, str]:
    """Return the units of each critical-care candidate by its rule."""
    record.says("patient.payer_class", payer)
    found = (f for f in judged(record) if f.rule.id.startswith("em-"))
    return {f.rule.id: f.units for f in found if f.state == "candidate"}
