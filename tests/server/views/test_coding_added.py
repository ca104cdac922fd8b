"""Codes after signing: what an addendum took up counts, and the file says what became.

Source: coding rules: an answer or a late complication is a dated addendum of its own
and changes candidates only once signed; a withdrawn note sends every line as removed.
"""

from __future__ import annotations

import csv
import io

import pytest

from tests.support.signing import adds, signs
from webapp.record.addenda import late_entries
from webapp.record.open_record import open_record

PERSON = {"person": None, "name": "E. Tarn-Example", "role": "operator"}


@pytest.fixture
def record(tablet, signer):
    """A signed record, and a complication that reached it after the signature."""
    made = tablet.opens()
    tablet.sets(made, "indication.main_rhythm", "complete_av_block")
    tablet.syncs()
    signs(signer, made)
    row = {"kind": "pneumothorax", "cause": "due_to_procedure", "cause_by": PERSON}
    tablet.adds(made, "finish.complication", {**row, "when_seen": "after"})
    tablet.syncs()
    return made


def take_up(signer, db, record):
    late = [e.header.id for e in late_entries(open_record(db, record))]
    assert adds(signer, record, take_up=late).status_code == 302


def rows_of(coder, record) -> dict[str, dict[str, str]]:
    text = coder.opens(f"/records/{record}/codes.csv").data.decode()
    rows = csv.DictReader(io.StringIO(text, newline=""))
    return {r["rule"]: r for r in rows if r["view"] == "professional"}


def test_an_event_after_signing_gives_no_code_of_its_own(coder, record):
    rows = rows_of(coder, record)
    assert "cx-pneumothorax" not in rows
    assert {row["note_state"] for row in rows.values()} == {"signed"}


def test_an_addendum_that_takes_it_up_makes_it_a_candidate(coder, signer, db, record):
    before = rows_of(coder, record)
    take_up(signer, db, record)
    after = rows_of(coder, record)
    assert after["cx-pneumothorax"]["state"] == "candidate"
    assert {row["note_state"] for row in after.values()} == {"addended"}
    for rule, row in before.items():
        assert after[rule]["line"] == row["line"]
    shas = [row["note_sha256"] for row in (*before.values(), *after.values())]
    assert len(set(shas)) == 1


def test_an_addendum_that_takes_up_nothing_changes_no_line(coder, signer, record):
    before = rows_of(coder, record)
    adds(signer, record)
    after = rows_of(coder, record)
    assert before.keys() == after.keys()
    assert {row["note_state"] for row in after.values()} == {"addended"}


def test_the_page_shows_what_the_addendum_added(coder, signer, db, record):
    assert "J95.811" not in coder.opens(f"/coding/{record}").text
    take_up(signer, db, record)
    page = coder.opens(f"/coding/{record}").text
    assert "J95.811" in page
    assert "added to after signing" in page


def test_a_withdrawn_note_sends_each_line_as_removed_under_its_own_number(
    coder, signer, db, record
):
    take_up(signer, db, record)
    before = rows_of(coder, record)
    adds(signer, record, kind="withdrawal", because="It was another patient's.")
    after = rows_of(coder, record)
    assert {rule: row["line"] for rule, row in after.items()} == {
        rule: row["line"] for rule, row in before.items()
    }
    assert {row["state"] for row in after.values()} == {"removed"}
    assert {row["note_state"] for row in after.values()} == {"withdrawn"}
    assert {row["reason"] for row in after.values()} == {"withdrawn"}
    assert {row["missing"] + row["open_questions"] for row in after.values()} == {"0"}
