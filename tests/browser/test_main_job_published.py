"""Published cases entered as they were published, from the tablet to the coder.

fixtures/published names each source; nothing is bent, nothing is added.
"""

import json
import re

import pytest
from playwright.sync_api import expect

from tests.support.hands import Hands
from tests.support.main_job import (
    FIXTURES,
    Desk,
    arrives,
    coding_site,
    entered_without_network,
    lines,
    signed_and_coded,
)
from webapp.record.open_record import open_record
from webapp.record.questions import open_questions


@pytest.fixture
def site(tmp_path):
    return coding_site(tmp_path / "home")


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
    # Whether it was the same day is not told, so the bedside does not ask which: the
    # desk, which reads on to the catheter room, adds it.
    bedside, record, before = entered_without_network(
        browser, live, db, "published/CR-02", upto=-1
    )
    found = arrives(bedside, live, db, before)
    which = "finish.larger_procedure_which"
    cast.signer.signs_in()
    page = f"/records/{record}/answer?path={which}"
    added = cast.signer.posts(page, path=which, answer="coronary_intervention")
    assert added.status_code == 302
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
    assert "Coronary intervention" in shown
    assert not any(code.startswith("R57") for _, code in codes)
    assert "R41.0" not in {code for _, code in codes}


def test_the_knot_at_45_cm_from_the_tablet_to_the_coder(
    browser, second_browser, live, db, cast
):
    bedside, record, before = entered_without_network(
        browser, live, db, "published/CR-06"
    )
    found = arrives(bedside, live, db, before)
    shown, note, rows = signed_and_coded(second_browser, live, cast, record)

    for text in (shown, note):
        for said in ("45 cm", "28 /min", "Frail.", "no consistent ventricular capture"):
            assert said in text
        assert "Femoral, side not known" in text
        assert "not stated by case report" in text
    assert "age 82 y, as told" in note
    (wire,) = found.case.wires
    told = lambda path: found.case.answer(found.case.wire_path(wire.id, path)).value  # noqa: E731
    assert told("advance.fluoroscopy_used") == "no"
    assert told("capture.capture_consistent") == "no"
    codes = lines(rows)
    assert codes["ICD-10-CM", "I44.2"]["state"] == "candidate"
    assert codes["ICD-10-CM", "I48.21"]["state"] == "candidate"
    assert codes["CPT", "33210"]["state"] == "missing"
    pacing = lines(rows, "inpatient")["ICD-10-PCS", "5A1223Z"]
    assert pacing["state"] == "not_offered"
    assert not any(code.startswith("I97.51") for _, code in codes)


def test_none_seen_stays_signed_and_the_tamponade_of_day_two_stands_beside_it(
    browser, second_browser, live, db, cast
):
    told = json.loads((FIXTURES / "published/CR-08.json").read_text(encoding="utf-8"))
    first = told["signed_after"]
    bedside, record, before = entered_without_network(
        browser, live, db, "published/CR-08", upto=first
    )
    arrives(bedside, live, db, before)
    desk = Desk(second_browser, live, cast.signer.person)
    desk.signs(record)
    signed = desk.downloads(f"/records/{record}/note.pdf")

    hands = Hands(bedside, FIXTURES / "published/CR-08.json")
    hands.enters(first=first)
    after = bedside.fold()
    expect(bedside.page.locator("#case-strip")).to_contain_text(
        re.compile("On the server"), timeout=90_000
    )
    found = open_record(db, record)
    assert {
        k: v for k, v in found.case.fold["values"].items() if k != "attestations"
    } == {k: v for k, v in after["values"].items() if k != "attestations"}
    assert desk.downloads(f"/records/{record}/note.pdf") == signed
    desk.opens(f"/records/{record}")
    shown = desk.page.locator("main").inner_text()
    for said in ("Perforation", "Tamponade", "Cannot tell", "Open chest"):
        assert said in shown
    (line,) = found.case.rows("finish.complications_line")
    assert line.value["none_seen"] == "yes"
    assert bedside.failed == []
