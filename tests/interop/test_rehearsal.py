"""The scripted patients of a rehearsal: made-up figures, and no way out of them."""

from __future__ import annotations

import json
import re
import subprocess

import pytest

from tests.support.node import CHECKS, call

DUMP = (
    "import { SCRIPTS } from '../../static/js/rehearsal/scripts.js';"
    "console.log(JSON.stringify(SCRIPTS));"
)


@pytest.fixture(scope="module")
def scripts():
    """Every script by its name."""
    told = subprocess.run(
        ["node", "--input-type=module", "-e", DUMP],
        cwd=CHECKS,
        capture_output=True,
        text=True,
        check=True,
    )
    return {script["name"]: script for script in json.loads(told.stdout)}


def chambers(script, *depths):
    """The chamber at each depth of a way, one after the other."""
    ways = [[script, list(depths[: n + 1])] for n in range(len(depths))]
    return call("rehearsal/patient.js", "chamberAt", ways)


def depth(cm, result, ms=0):
    return {"what": "depth", "n": cm, "result": result, "ms": ms}


def output(ma, result, ms=0):
    return {"what": "output", "n": ma, "result": result, "ms": ms}


def test_the_plain_patient_shows_the_chambers_in_order(scripts):
    assert chambers(scripts["steady"], 10, 16, 19, 22, 27, 34) == [
        "svc",
        "high_ra",
        "mid_ra",
        "low_ra",
        "rv_free",
        "rv_contact",
    ]


def test_the_wrong_way_is_left_only_by_pulling_back_far_enough(scripts):
    script = scripts["wrong_way"]
    assert chambers(script, 22, 26, 22, 26)[-1] == "ivc"
    assert chambers(script, 22, 26, 20, 26)[-1] == "rv_free"


@pytest.mark.parametrize(
    ("ma", "expected"), [(0.7, False), (0.8, True), (0.9, True), (25, True)]
)
def test_an_output_captures_from_the_hidden_threshold_on(scripts, ma, expected):
    asked = [[scripts["steady"], [depth(34, "rv_contact")], ma]]
    assert call("rehearsal/patient.js", "captures", asked) == [expected]


def test_nothing_captures_without_contact(scripts):
    asked = [[scripts["steady"], [depth(27, "rv_free")], 25]]
    assert call("rehearsal/patient.js", "captures", asked) == [False]


def test_the_hard_patient_loses_capture_once_the_dial_was_read_back(scripts):
    script = scripts["lost"]
    before = [depth(36, "rv_contact"), output(1, "captures")]
    left = [*before, {"what": "left_at", "n": 3, "ms": 9}]
    shown = call(
        "rehearsal/patient.js", "monitorOf", [[script, before, {}], [script, left, {}]]
    )
    assert shown[0]["shows"] == "pattern"
    assert shown[1] == {"shows": "paced", "pattern": None, "captures": False}


def test_runs_show_until_somebody_entered_them(scripts):
    script = scripts["lost"]
    done = [depth(27, "rv_free")]
    told = [*done, {"what": "runs", "ms": 3}]
    shown = call(
        "rehearsal/patient.js", "monitorOf", [[script, done, {}], [script, told, {}]]
    )
    assert [one["shows"] for one in shown] == ["runs", "pattern"]


def test_a_debrief_names_what_was_read_otherwise_and_what_was_not_done(scripts):
    done = [
        depth(19, "high_ra", 60_000),
        depth(34, "rv_contact", 120_000),
        output(2, "captures", 180_000),
        output(0.7, "captures", 200_000),
    ]
    seen = {"p_waves": True, "wiring": True}
    told = {"started_ms": 0, "threshold_ma": 0.7}
    (debrief,) = call(
        "rehearsal/debrief.js", "debriefOf", [[scripts["steady"], done, seen, told]]
    )
    assert [line["isAsHidden"] for line in debrief["readings"]] == [
        False,
        True,
        True,
        False,
    ]
    assert debrief["readings"][0]["values"]["hidden"] == "mid_ra"
    assert debrief["missed"] == ["balloon_down", "own_rhythm", "pads", "read_back"]
    assert debrief["times"] == {"contact_s": 120, "capture_s": 180, "end_s": 200}
    assert debrief["threshold"]["isAsHidden"] is False
    assert debrief["threshold"]["values"] == {"told": 0.7, "hidden": 0.8}


def test_a_rehearsal_page_starts_no_sync():
    page = (CHECKS.parents[1] / "static/js/pages/tablet.js").read_text(encoding="utf-8")
    assert re.findall(r".*startSync\(.*", page) == [
        "  if (!isRehearsal()) startSync(store);"
    ]
