"""An edition that is not loaded is marked wherever its code stands, until it is loaded.

Source: coding rules: not confirmed for the date on the coding desk, in the note and in
the file; an official order file of the date confirms it without any change of code.
"""

from __future__ import annotations

import csv
import io
import subprocess

from tests.support.order_files import loads
from tests.support.signing import signs
from webapp.app import create_app
from webapp.settings import load

MARK = "FY2026-Apr; FY2032 not loaded: confirm"


def row_of(answer, rule="dx-avb-3") -> dict[str, str]:
    rows = csv.DictReader(io.StringIO(answer.data.decode(), newline=""))
    return next(row for row in rows if row["rule"] == rule)


def text_of(pdf: bytes) -> str:
    read = ["pdftotext", "-layout", "-", "-"]
    told = subprocess.run(read, input=pdf, capture_output=True, check=True)
    return " ".join(told.stdout.decode().split())


def started_anew(site, person):
    """Return a client of the server started again, signed in as before."""
    again = create_app(load(site.home)).test_client()
    with (
        person.client.session_transaction() as known,
        again.session_transaction() as session,
    ):
        session.update(known)
    return again


def test_it_is_marked_on_screen_in_the_note_and_in_the_file(coder, unserved):
    assert MARK in coder.opens(f"/coding/{unserved}").text
    row = row_of(coder.opens(f"/records/{unserved}/codes.csv"))
    assert (row["code_edition"], row["edition_confirmed"]) == ("FY2026-Apr", "no")
    assert row["service_date"] == "2031-11-24"
    text = text_of(coder.opens(f"/records/{unserved}/note.pdf").data)
    assert f"Edition: ICD-10-CM {MARK}" in text
    assert "not confirmed for the date of service" in text


def test_the_official_file_of_the_date_confirms_it_everywhere(
    app, site, monkeypatch, coder, signer, unserved, order_file
):
    loads(app, site, monkeypatch, order_file)
    again = started_anew(site, coder)
    page = again.get(f"/coding/{unserved}").text
    assert "FY2032 not loaded" not in page
    assert "Atrioventricular block, complete. ICD-10-CM FY2032." in page
    row = row_of(again.get(f"/records/{unserved}/codes.csv"))
    assert (row["code_edition"], row["edition_confirmed"]) == ("FY2032", "yes")
    assert row["state"] == "candidate"


def test_the_note_that_was_signed_keeps_its_mark(
    app, site, monkeypatch, coder, unserved, order_file
):
    before = coder.opens(f"/records/{unserved}/note.pdf").data
    loads(app, site, monkeypatch, order_file)
    after = started_anew(site, coder).get(f"/records/{unserved}/note.pdf").data
    assert after == before


def test_a_code_that_the_official_file_does_not_hold_is_not_offered(
    app, site, monkeypatch, coder, tablet, signer, unserved, order_file
):
    tablet.sets(unserved, "indication.with_rhythms", ["right_bundle_branch_block"])
    tablet.syncs()
    signs(signer, unserved)
    loads(app, site, monkeypatch, order_file)
    answer = started_anew(site, coder).get(f"/records/{unserved}/codes.csv")
    row = row_of(answer, "dx-rbbb")
    assert row["state"] == "not_offered"
    assert row["reason"] == "not a code of the edition FY2032"
