"""The main job without a pointer: Tab, arrows, Enter and typing, nothing else."""

import pytest

from tests.support.keys import Keys
from tests.support.main_job import arrives, coding_site, entered_without_network
from webapp.record.questions import open_questions


@pytest.fixture
def site(tmp_path):
    return coding_site(tmp_path / "home")


def test_a_whole_case_is_entered_by_keys_alone_without_network_and_arrives(
    browser, live, db
):
    bedside, _, before = entered_without_network(
        browser, live, db, "demo/1-clean-emergency", Keys
    )
    found = arrives(bedside, live, db, before)
    assert open_questions(found.case) == []
    assert bedside.failed == []
