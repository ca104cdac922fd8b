"""Reading a folded record, on the published cases as they were published."""

from pathlib import Path

import pytest

from webapp.catalogue import CATALOGUE
from webapp.record.case import Case
from webapp.record.fold import Opened, fold
from webapp.record.questions import open_questions
from webapp.record.streams import UnusableStream, read_stream
from webapp.record.timeline import timeline
from webapp.record.writer import body_of

FIXTURES = Path(__file__).parents[3] / "fixtures"
STREAMS = sorted((FIXTURES / "published").glob("*.json")) + sorted(
    (FIXTURES / "demo").glob("*.json")
)


def case_of(*names):
    drafts = [d for n in names for d in read_stream(FIXTURES / f"{n}.json").drafts]
    opened = [Opened(d.id, "A", n, body_of(d)) for n, d in enumerate(drafts, 1)]
    return Case(fold(opened), CATALOGUE)


@pytest.fixture(scope="module")
def cr01():
    return case_of("published/CR-01")


@pytest.fixture(scope="module")
def clean():
    return case_of("demo/1-clean-emergency")


@pytest.mark.parametrize("file", STREAMS, ids=lambda f: f.stem)
def test_every_told_case_is_made_of_legal_paths_and_values(file):
    assert read_stream(file).drafts


def test_a_stream_names_the_entry_that_cannot_be(tmp_path):
    text = (FIXTURES / "published" / "CR-01.json").read_text(encoding="utf-8")
    broken = tmp_path / "broken.json"
    broken.write_text(text.replace("patient.alias", "patient.nickname"), "utf-8")
    with pytest.raises(UnusableStream, match=r"entry 3: .*patient\.nickname"):
        read_stream(broken)


# Published case CR-01: emergency ECG teaching site, July 2015, "Found on floor".
def test_the_rates_of_the_unknown_man_stay_ranges(cr01):
    rates = [row.words("heart_rate") for row in cr01.rows("indication.observations")]
    assert rates == ["20 to 30 /min", "20 to 40 /min"]


def test_both_capture_readings_stand_with_who_judged_them(cr01):
    rows = cr01.rows("indication.skin_pacing_reading")
    told = [
        (r.get("by")["name"], r.get("mechanical"), r.get("judged_how")) for r in rows
    ]
    assert told[:2] == [
        ("Ambulance crew", "yes", ["pulse"]),
        ("Treating clinician", "no", ["ultrasound"]),
    ]


def test_a_maximum_is_an_output_and_not_a_number(cr01):
    spell = cr01.rows("indication.skin_pacing")[1]
    assert spell.words("output") == "maximum"
    assert "n" not in spell.get("output")


def test_a_dose_nobody_stated_says_so(cr01):
    doses = [row.words("dose") for row in cr01.rows("indication.drugs_given")]
    assert doses == ["not stated by crew report"] * 2


def test_what_the_report_leaves_out_is_not_known_and_never_no(cr01):
    (wire,) = cr01.wires
    site = cr01.answer(cr01.wire_path(wire, "approach.site"))
    assert (site.state, site.words) == ("not_known", "not stated by case report")
    assert cr01.answer("consent.basis").state == "not_asked"


def test_the_unknown_man_leaves_questions_open_and_blocks_nothing(cr01):
    paths = {q.path for q in open_questions(cr01)}
    assert {"consent.basis", "patient.weight"} <= paths
    wire = cr01.wires[0]
    assert cr01.wire_path(wire, "approach.site") not in paths


def test_a_complete_case_leaves_no_question_open(clean):
    assert open_questions(clean) == []


def test_two_tablets_that_disagree_leave_two_answers_open():
    both = case_of("demo/2-name-not-known-a", "demo/2-name-not-known-b")
    answer = both.answer("patient.age_class")
    assert answer.state == "two_answers"
    assert answer.value is None
    assert set(answer.heads) == {"adult", "elderly_adult"}
    assert ("patient.age_class", "two_answers") in {
        (q.path, q.why) for q in open_questions(both)
    }


def test_equal_answers_of_two_tablets_are_one():
    both = case_of("demo/2-name-not-known-a", "demo/2-name-not-known-b")
    assert both.answer("patient.sex").state == "answered"
    assert len(both.answer("patient.sex").entries) == 2


def test_an_impossible_weight_is_kept_as_typed_and_open():
    case = case_of("demo/2-name-not-known-a")
    weight = case.answer("patient.weight")
    assert (weight.state, weight.value["as"]) == ("impossible", "700.5")
    assert ("patient.weight", "impossible") in {
        (q.path, q.why) for q in open_questions(case)
    }


def test_a_condition_never_reads_an_impossible_value():
    case = case_of("demo/2-name-not-known-a")
    assert case.reader()("patient.weight")["values"] == []


def test_the_timeline_holds_the_readings_in_the_order_they_were_called(clean):
    line = timeline(clean)
    assert [int(r.amount) for r in line.depths] == [12, 18, 22, 27, 34]
    assert [r.result for r in line.outputs][-2:] == ["no_capture", "captures"]
    assert line.others > 0  # the removal two days on


def test_an_order_of_the_day_before_does_not_push_the_readings_off_the_ruler():
    line = timeline(case_of("demo/4-planned"))
    labels = [flag.label for flag in line.flags]
    assert len(line.depths) == len(line.outputs) == 3
    assert "First puncture" in labels
    assert "Inpatient order at" not in labels
    assert line.others == 1


def test_a_record_without_a_clock_time_has_no_timeline():
    assert timeline(Case(fold([]), CATALOGUE)) is None


def test_a_condition_never_reads_an_impossible_value_of_a_row():
    value = {"systolic": {"as": "900", "n": "900", "unit": "mm[Hg]"}, "where": "ward"}
    at = {"utc": "2031-11-24T10:41:07.000Z"}
    who = {"name": "x"}
    said = {"path": "indication.observations", "op": "add", "value": value}
    body = {
        **said,
        "seen": [],
        "at": at,
        "author": who,
        "entered_by": who,
        "called_by": None,
        "source": "seen",
        "how": "typed",
    }
    case = Case(fold([Opened("e", "A", 1, body)]), CATALOGUE)
    assert case.rows("indication.observations")[0].value == value
    assert case.reader()("indication.observations")["rows"] == [
        {"where": "ward", "id": "e"}
    ]
