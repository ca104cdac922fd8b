"""Two who sign one content, a late signature, what was opened, reasons at the desk."""

import subprocess
from dataclasses import replace
from datetime import timedelta

import pytest

from tests.support.sent_cases import sends_case
from tests.support.signing import signs
from webapp.catalogue.moments import read_instant
from webapp.record.open_record import open_record
from webapp.record.verify import breaks
from webapp.views.attesting import is_late

NAME = "patient.family_name"


@pytest.fixture
def record(tablet):
    return sends_case(tablet, "demo/1-clean-emergency")


def attestations(db, record):
    return [row.value for row in open_record(db, record).case.rows("attestations")]


def note_text(signer, record):
    pdf = signer.opens(f"/records/{record}/note.pdf").data
    read = ["pdftotext", "-layout", "-", "-"]
    told = subprocess.run(read, input=pdf, capture_output=True, check=True)
    return " ".join(told.stdout.decode().split())


def test_the_supervisor_s_signature_stands_apart_under_the_same_digest(
    cast, signer, db, record
):
    signs(signer, record)
    cast.supervisor.signs_in()
    asks = cast.supervisor.opens(f"/records/{record}/sign").text
    assert "Test-Ines ALDERMERE signed exactly this" in asks
    assert signs(cast.supervisor, record).status_code == 302
    first, second = attestations(db, record)
    assert first["content_digest"] == second["content_digest"]
    assert (first["meaning"], second["meaning"]) == ("operator", "supervisor")
    text = note_text(signer, record)
    assert "Signature Name Test-Ines Role operator ALDERMERE, MD" in text
    assert "Signature of the supervisor Name Test-Ole Role supervisor SKAGMERE" in text
    assert list(breaks(db)) == []


def test_the_first_note_keeps_one_signature(cast, signer, record):
    signs(signer, record)
    before = signer.opens(f"/records/{record}/note.pdf").data
    cast.supervisor.signs_in()
    signs(cast.supervisor, record)
    kept = signer.opens(f"/records/{record}/note.pdf?version=1").data
    assert kept == before


def test_a_signature_says_what_was_opened_since_the_last_entry(signer, db, record):
    signer.opens(f"/records/{record}")
    signer.opens(f"/records/{record}/note.pdf")
    signs(signer, record)
    [told] = attestations(db, record)
    record_words, note_words = told["sections_opened"].split("; ")
    assert record_words.startswith("the record, ")
    assert note_words.startswith("the note as it prints, ")
    assert told["sections_opened"].split("; ")[0] in note_text(signer, record)


def test_nothing_opened_is_nothing_said(signer, db, record):
    signs(signer, record)
    [told] = attestations(db, record)
    assert "sections_opened" not in told


@pytest.fixture
def strict(app):
    """The site asks why a signature comes more than an hour after."""
    app.config["SETTINGS"] = replace(app.config["SETTINGS"], sign_within_h=1)


def test_a_signature_within_the_site_s_hours_asks_nothing(strict, signer, db, record):
    assert signs(signer, record).status_code == 302
    assert "late_because" not in attestations(db, record)[0]


@pytest.mark.parametrize(
    ("after_min", "is_asked"), [(59, False), (60, False), (61, True)], ids=str
)
def test_hours_count_from_the_last_entry_of_a_tablet(
    strict, app, db, record, after_min, is_asked
):
    found = open_record(db, record)
    last = read_instant(found.counted[-1].received_at)
    with app.app_context():
        asked = is_late(found, last + timedelta(minutes=after_min))
    assert asked is is_asked


def test_a_late_signature_says_why_and_prints_it(
    strict, signer, db, record, monkeypatch
):
    monkeypatch.setattr("webapp.views.notes.is_late", lambda found: True)
    answer = signs(signer, record)
    assert answer.status_code == 400
    assert "Say why it is signed late." in answer.text
    assert "More than 1 h have passed." in answer.text
    signs(signer, record, late_because="On leave.")
    assert attestations(db, record)[0]["late_because"] == "On leave."
    assert "Signed late because On leave." in note_text(signer, record)


def test_a_correction_keeps_what_stood_and_says_why(signer, db, tablet, record):
    page = f"/records/{record}/answer?path={NAME}"
    asks = signer.opens(page).text
    assert "Why it is corrected or settled so" in asks
    fields = {"path": NAME, "answer": "STRANDMERE"}
    signer.posts(page, **fields, correction_because="Misspelt on the band.")
    shown = signer.opens(f"/records/{record}").text
    assert "STRANDMERE" in shown
    assert "because Misspelt on the band." in shown
    history = signer.opens(f"/records/{record}/entries?path={NAME}").text
    assert "ALDERMERE" in history
    [row] = open_record(db, record).case.rows("settlements")
    [head] = open_record(db, record).case.fold["values"][NAME]
    assert head["entries"] == [row.get("entries")]
    text = note_text(signer, record)
    assert "Family name Misspelt on the band." in text


def test_a_first_answer_asks_for_no_reason(signer, record):
    page = f"/records/{record}/answer?path=patient.alias"
    assert "Why it is corrected" not in signer.opens(page).text


def test_what_came_after_the_signature_is_marked_beside_the_field(
    signer, tablet, record
):
    signs(signer, record)
    assert "after the signature" not in signer.opens(f"/records/{record}").text
    tablet.sets(record, NAME, "CHANGED")
    tablet.syncs()
    assert "after the signature" in signer.opens(f"/records/{record}").text
