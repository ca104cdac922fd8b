"""The main job on a phone in need: 390 by 844."""

import pytest

from tests.support.main_job import arrives, coding_site, entered_without_network
from webapp.record.questions import open_questions


@pytest.fixture
def site(tmp_path):
    return coding_site(tmp_path / "home")


@pytest.fixture
def phone(shell, tmp_path):
    made = shell.browser(tmp_path / "profile", viewport={"width": 390, "height": 844})
    yield made
    made.close()


def test_a_whole_case_is_entered_on_a_phone_without_network_and_arrives(
    phone, live, db
):
    bedside, _, before = entered_without_network(
        phone, live, db, "demo/1-clean-emergency"
    )
    found = arrives(bedside, live, db, before)
    assert open_questions(found.case) == []
    assert bedside.failed == []
