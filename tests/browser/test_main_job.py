"""The main job, end to end: tablet without network, sync, signature, note, codes.

One invented case through every part; the published ones are in
test_main_job_published.py, the same on a phone and without a pointer beside them.
"""

import pytest

from tests.support.main_job import (
    arrives,
    coding_site,
    entered_without_network,
    lines,
    signed_and_coded,
)
from webapp.record.questions import open_questions


@pytest.fixture
def site(tmp_path):
    return coding_site(tmp_path / "home")


def test_a_whole_case_through_every_part_from_the_tablet_to_the_coder(
    browser, second_browser, live, db, cast
):
    bedside, record, before = entered_without_network(
        browser, live, db, "demo/1-clean-emergency"
    )
    found = arrives(bedside, live, db, before)
    shown, note, rows = signed_and_coded(second_browser, live, cast, record)

    assert open_questions(found.case) == []
    for text in (shown, note):
        for said in ("ALDERMERE", "00417220", "34 cm", "RV contact", "3 mA"):
            assert said in text
    assert "1.2" in note
    assert "2.5 ×" in note
    codes = lines(rows)
    assert codes["ICD-10-CM", "I44.2"]["state"] == "candidate"
    assert codes["CPT", "33210"]["state"] == "candidate"
    assert codes["CPT", "76937"]["state"] == "not_offered"
