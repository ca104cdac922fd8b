"""Signing: what was read is what is signed, and then nothing moves."""

import hashlib
import io

import pytest
from pdfminer.high_level import extract_text

from tests.support.cast import PASSWORD
from tests.support.sent_cases import sends_case
from tests.support.signing import form_of, signs
from webapp.record.addenda import about_ids
from webapp.record.entry import decode_body
from webapp.record.open_record import open_record
from webapp.record.records import one_listed
from webapp.record.signing import covered

REASON = {"undelivered_reason": "tablet broken"}


@pytest.fixture
def clean(tablet):
    return sends_case(tablet, "demo/1-clean-emergency")


def pdf_text(answer):
    return extract_text(io.BytesIO(answer.data))


def test_the_unsigned_note_says_so(signer, clean):
    answer = signer.opens(f"/records/{clean}/note.pdf")
    assert answer.mimetype == "application/pdf"
    assert "Not signed" in pdf_text(answer)
    assert "ALDERMERE" in pdf_text(answer)


def test_the_digest_read_is_the_digest_signed_and_printed(signer, db, clean):
    read = form_of(signer.opens(f"/records/{clean}/sign").text)["digest"]
    assert signs(signer, clean).status_code == 302
    found = open_record(db, clean)
    (row,) = found.case.rows("attestations")
    assert row.value["content_digest"] == read
    text = pdf_text(signer.opens(f"/records/{clean}/note.pdf"))
    assert read in text.replace("\n", "").replace(" ", "")
    assert "Not signed" not in text
    assert one_listed(db, clean).state == "signed"


def test_signing_twice_is_one_signature_and_one_note(signer, db, clean):
    page = f"/records/{clean}/sign"
    fields = {**form_of(signer.opens(page).text), "agree": "yes", "password": PASSWORD}
    assert signer.posts(page, **fields).status_code == 302
    first = signer.opens(f"/records/{clean}/note.pdf").data
    assert signer.posts(page, **fields).status_code == 302
    assert signs(signer, clean).status_code == 302
    assert len(open_record(db, clean).case.rows("attestations")) == 1
    assert db["note"].count == 1
    assert signer.opens(f"/records/{clean}/note.pdf").data == first


def test_the_stored_bytes_are_the_ones_the_attestation_names(signer, db, clean):
    signs(signer, clean)
    (row,) = open_record(db, clean).case.rows("attestations")
    pdf = signer.opens(f"/records/{clean}/note.pdf").data
    assert hashlib.sha256(pdf).hexdigest() == row.value["pdf_sha256"]


def test_later_entries_never_change_a_signed_note(signer, db, tablet, clean):
    signs(signer, clean)
    before = signer.opens(f"/records/{clean}/note.pdf").data
    tablet.adds(clean, "indication.event", {"what": "late chest pain"})
    tablet.syncs()
    assert signer.opens(f"/records/{clean}/note.pdf").data == before
    assert one_listed(db, clean).late_entries == 1


def test_a_record_that_changed_since_it_was_read_is_not_signed(
    signer, db, tablet, clean
):
    page = f"/records/{clean}/sign"
    read = form_of(signer.opens(page).text)
    tablet.sets(clean, "patient.height", {"as": "170", "n": "170", "unit": "cm"})
    tablet.syncs()
    answer = signer.posts(page, **read, agree="yes", password=PASSWORD)
    assert answer.status_code == 409
    assert "Height: 170 cm" in answer.text
    assert one_listed(db, clean).state == "not_signed"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"password": "wrong"}, "The password does not fit. Nothing was signed."),
        ({"password": ""}, "The password does not fit. Nothing was signed."),
        ({"agree": ""}, "Agree to the statement to sign."),
    ],
)
def test_a_signature_that_lacks_something_is_none(signer, db, clean, changes, says):
    answer = signs(signer, clean, **changes)
    assert answer.status_code == 400
    assert says in answer.text
    assert one_listed(db, clean).note_version == 0


def test_entries_still_on_a_tablet_want_a_reason_that_prints(signer, db, tablet, clean):
    tablet.adds(clean, "indication.event", {"what": "never sent"})
    tablet.exchanges(batch=[])
    page = signer.opens(f"/records/{clean}/sign").text
    assert "entries not arrived: 1" in page
    assert signs(signer, clean).status_code == 400
    assert signs(signer, clean, **REASON).status_code == 302
    text = pdf_text(signer.opens(f"/records/{clean}/note.pdf"))
    assert "tablet broken" in " ".join(text.split())


def test_a_second_signature_makes_a_second_version_and_keeps_the_first(
    signer, tablet, clean
):
    signs(signer, clean)
    first = signer.opens(f"/records/{clean}/note.pdf").data
    tablet.adds(clean, "indication.event", {"what": "late chest pain"})
    tablet.syncs()
    assert signs(signer, clean).status_code == 302
    assert signer.opens(f"/records/{clean}/note.pdf?version=1").data == first
    assert signer.opens(f"/records/{clean}/note.pdf").data != first
    assert signer.opens(f"/records/{clean}/note.pdf?version=3").status_code == 404


def test_a_signature_covers_every_counted_entry_and_no_signature(signer, db, clean):
    signs(signer, clean)
    found = open_record(db, clean)
    now = covered(found.logged, about_ids(found.case))
    paths = {decode_body(e.body)["path"] for e in found.counted}
    assert "attestations" in paths
    assert len(now.ids) == len(found.counted) - 1


def test_a_nurse_reads_and_does_not_sign(cast, clean):
    cast.administrator.signs_in()
    assert cast.administrator.opens(f"/records/{clean}").status_code == 200
    assert cast.administrator.opens(f"/records/{clean}/sign").status_code in (403, 404)
