"""The main job, end to end: tablet without network, sync, signature, note, codes.

The cases are published ones, entered as they were published (fixtures/published
names each source), and one invented case through every part.
"""

import csv
import io
import re
from pathlib import Path

import pytest
from pdfminer.high_level import extract_text
from playwright.sync_api import expect

from tests.support.bedside import Bedside
from tests.support.cast import PASSWORD
from tests.support.hands import Hands
from webapp.people import tablets
from webapp.record.open_record import open_record
from webapp.record.questions import open_questions
from webapp.settings import load

FIXTURES = Path(__file__).parents[2] / "fixtures"
SITE = """
hospital = "Example Harbour Hospital"
facility = "EXHB"
zone = "America/Chicago"

[cpt_enabled]
by = "R. Wend-Example"
role = "administrator"
on = "2026-01-02"
licence_reference = "test only"
"""
# What the key "Start now, no name" keeps by itself.
STARTED = ("patient.start",)


@pytest.fixture
def site(tmp_path):
    """A site that may see procedure numbers, in the zone the cases are told in."""
    home = tmp_path / "home"
    home.mkdir()
    (home / "wiremark.toml").write_text(SITE, encoding="utf-8")
    return load(home)


class Desk:
    """A person at a workstation, with a browser of their own."""

    def __init__(self, browser, live, person):
        self.browser, self.live = browser, live
        self.page = browser.opens(f"{live.url}/sign-in")
        self.page.locator("input[name=login]").fill(person.login)
        self.page.locator("input[name=password]").fill(PASSWORD)
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page.locator("main")).to_be_visible()

    def opens(self, path):
        self.page.goto(f"{self.live.url}{path}")

    def signs(self, record):
        self.opens(f"/records/{record}/sign")
        self.page.get_by_role("checkbox").check()
        self.page.get_by_label(re.compile("^Password of")).fill(PASSWORD)
        self.page.get_by_role("button", name="Sign", exact=True).click()
        expect(self.page.locator(".state-word")).to_have_text("Signed")

    def downloads(self, path):
        answer = self.page.request.get(f"{self.live.url}{path}")
        assert answer.ok, (path, answer.status)
        return answer.body()

    def leaves(self):
        self.page.get_by_role("button", name="Sign out").click()
        expect(self.page.locator("input[name=login]")).to_be_visible()


def enrols(browser, live, db):
    """Enrol the tablet with a one-time code and wait until it can go without us."""
    _, code = tablets.add(db, "Tablet 2")
    page = browser.opens(f"{live.url}/tablet/enrol")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Enrol").click()
    page.wait_for_url(f"{live.url}/tablet/")
    expect(page.locator("#start-strip")).to_contain_text("Ready without network")
    return page


def entered_without_network(browser, live, db, name, skip=STARTED):
    """Enter a told case with the server stopped, kill the browser, find it again."""
    enrols(browser, live, db).close()
    live.stop()
    bedside = Bedside(browser, live.url)
    bedside.starts_now()
    bedside.is_now("K. Ouse-Example", "nurse")
    Hands(bedside, FIXTURES / f"{name}.json").enters(skip)
    record, before = bedside.record, bedside.fold()
    browser.kill()
    again = Bedside(browser, live.url)
    again.page.goto(f"{live.url}/tablet/#/case/{record}")
    expect(again.page.locator("#case")).to_be_visible()
    assert again.fold() == before
    return again, record, before


def arrives(bedside, live, db, before):
    """Start the server and wait until everything has arrived by itself."""
    live.start()
    expect(bedside.page.locator("#case-strip")).to_contain_text(
        re.compile("On the server"), timeout=90_000
    )
    found = open_record(db, bedside.record)
    assert found.case.fold == before
    assert not found.set_aside
    return found


def signed_and_coded(second_browser, live, cast, record):
    """Sign at the desk, download the note, then the coder downloads the lines."""
    desk = Desk(second_browser, live, cast.signer.person)
    desk.opens(f"/records/{record}")
    shown = desk.page.locator("main").inner_text()
    desk.signs(record)
    note = extract_text(io.BytesIO(desk.downloads(f"/records/{record}/note.pdf")))
    desk.leaves()
    coder = Desk(second_browser, live, cast.coder.person)
    raw = coder.downloads(f"/records/{record}/codes.csv").decode("utf-8-sig")
    assert second_browser.problems == []
    return shown, " ".join(note.split()), list(csv.DictReader(io.StringIO(raw)))


def lines(rows, view="professional"):
    return {
        (row["code_system"], row["code"]): row for row in rows if row["view"] == view
    }


def test_the_unknown_man_from_the_tablet_to_the_coder(
    browser, second_browser, live, db, cast
):
    bedside, record, before = entered_without_network(
        browser, live, db, "published/CR-01"
    )
    found = arrives(bedside, live, db, before)
    shown, note, rows = signed_and_coded(second_browser, live, cast, record)

    rates = [r.words("heart_rate") for r in found.case.rows("indication.observations")]
    assert rates == ["20 to 30 /min", "20 to 40 /min"]
    for text in (shown, note):
        assert "NAME NOT KNOWN" in text or "Unknown man, found on floor" in text
        assert "20 to 30 /min" in text
        assert "20 to 40 /min" in text
        assert "maximum" in text
        assert "not stated by crew report" in text
        assert "not stated by case report" in text
    assert len(found.case.rows("indication.skin_pacing_reading")) == 3
    assert {q.path for q in open_questions(found.case)} >= {"consent.basis"}

    codes = lines(rows)
    assert codes["ICD-10-CM", "I44.2"]["state"] == "missing"
    assert codes["ICD-10-CM", "R57.9"]["state"] in ("candidate", "missing")
    assert ("ICD-10-CM", "R57.0") not in codes
    assert codes["CPT", "33210"]["state"] == "missing"
    assert "approach.site" not in note
    assert "33210" not in note
    assert bedside.failed == []


def test_the_man_with_the_infarct_from_the_tablet_to_the_coder(
    browser, second_browser, live, db, cast
):
    bedside, record, before = entered_without_network(
        browser, live, db, "published/CR-02"
    )
    found = arrives(bedside, live, db, before)
    shown, note, rows = signed_and_coded(second_browser, live, cast, record)

    assert found.case.answer("indication.compromise").value == ["none"]
    for text in (shown, note):
        assert "30 to 35 /min" in text
        assert "40 to 45 /min" in text
        assert "not stated by case report" in text
    codes = lines(rows)
    assert codes["ICD-10-CM", "I44.2"]["state"] == "candidate"
    assert codes["ICD-10-CM", "I21.11"]["state"] in ("candidate", "missing")
    assert codes["CPT", "33210"]["state"] == "missing"
    assert not any(code.startswith("R57") for _, code in codes)
    assert "R41.0" not in {code for _, code in codes}


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
