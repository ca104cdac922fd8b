"""After signing: the note stays, what is added stands beside it, each kind as such."""

import hashlib
import subprocess

import pytest

from tests.support.cast import PASSWORD
from tests.support.sent_cases import sends_case
from tests.support.signing import adds, signs
from webapp.people import access_log
from webapp.record.addenda import late_entries
from webapp.record.open_record import open_record
from webapp.record.records import one_listed
from webapp.record.signed import signed
from webapp.record.verify import breaks

COMPLICATION = "finish.complications"
NUMBER = "patient.record_number"
LABELS = {
    "late_entry": "Late entry 1",
    "addendum": "Addendum 1",
    "correction": "Correction 1",
    "patient_amendment": "Amendment asked for by the patient 1",
}


@pytest.fixture
def record(tablet, signer):
    """A signed record, and a number that reached it after the signature."""
    found = sends_case(tablet, "demo/1-clean-emergency")
    signs(signer, found)
    tablet.sets(found, NUMBER, "00990011")
    tablet.syncs()
    return found


def late_of(db, record):
    return [e.header.id for e in late_entries(open_record(db, record))]


def text_of(signer, record, number=1):
    answer = signer.opens(f"/records/{record}/added/{number}.pdf")
    assert answer.mimetype == "application/pdf"
    read = ["pdftotext", "-layout", "-", "-"]
    told = subprocess.run(read, input=answer.data, capture_output=True, check=True)
    return " ".join(told.stdout.decode().split())


@pytest.mark.parametrize("kind", LABELS)
def test_each_kind_has_a_label_of_its_own_on_its_paper(signer, record, kind):
    added = adds(signer, record, kind=kind, text="Seen at review.", because="Later.")
    assert added.status_code == 302
    text = text_of(signer, record)
    assert LABELS[kind] in text
    assert "What is added Seen at review." in text
    assert "Why Later." in text
    assert "page 1 of 1" in text


def test_the_signed_note_keeps_its_bytes(signer, record):
    before = signer.opens(f"/records/{record}/note.pdf").data
    adds(signer, record)
    assert signer.opens(f"/records/{record}/note.pdf").data == before
    named = hashlib.sha256(before).hexdigest()
    assert named in text_of(signer, record).replace(" ", "")


def test_a_late_entry_is_late_until_an_addendum_takes_it_up(signer, db, record):
    [late] = late_of(db, record)
    adds(signer, record)
    assert late_of(db, record) == [late]
    adds(signer, record, kind="late_entry", take_up=late)
    assert late_of(db, record) == []
    row = one_listed(db, record)
    assert (row.late_entries, row.state) == (0, "addended")


def test_the_paper_shows_what_the_note_says_beside_what_is_so(signer, db, record):
    [late] = late_of(db, record)
    before = signed(open_record(db, record)).case.answer(NUMBER).words
    adds(signer, record, kind="correction", take_up=late, text="", because="Misread.")
    text = text_of(signer, record)
    assert f"Was {before}" in text
    assert "Is 00990011" in text
    [row] = open_record(db, record).case.rows("addenda")
    was = {name: row.get(name) for name in ("path", "old_value", "new_value")}
    assert was == {"path": NUMBER, "old_value": before, "new_value": "00990011"}


def test_what_was_signed_is_not_what_came_later(signer, db, record):
    [late] = late_of(db, record)
    before = signed(open_record(db, record))
    adds(signer, record, take_up=late)
    after = signed(open_record(db, record))
    assert after.covered == before.covered
    assert after.case.answer(NUMBER).words == before.case.answer(NUMBER).words
    assert after.state == "addended"


def test_a_new_identity_is_told_beside_the_one_in_the_note(signer, tablet, record):
    tablet.sets(record, "patient.family_name", "CORRECTED")
    tablet.syncs()
    adds(signer, record)
    text = text_of(signer, record)
    assert "Named in the signed ALDERMERE" in text
    assert "CORRECTED" in text


@pytest.mark.parametrize(
    ("changes", "status", "word"),
    [
        ({"kind": ""}, 400, "Say which kind it is."),
        ({"kind": "answer"}, 400, "Say which kind it is."),
        ({"text": ""}, 400, "Write what is added, or take up a late entry."),
        ({"password": "not the password"}, 400, "The password does not fit."),
        ({"digest": "0" * 64}, 409, "The record changed while you read it."),
        ({"digest": "ß"}, 409, "The record changed while you read it."),
        ({"kind": "withdrawal"}, 400, "Say why it is withdrawn."),
        ({"text": "x" * 40_000}, 400, "too long"),
    ],
    ids=["no kind", "a kind of others", "nothing", "password", "stale", "odd digest",
         "withdrawn without reason", "too long"],
)  # fmt: skip
def test_nothing_is_added_until_all_of_it_is_there(
    signer, db, record, changes, status, word
):
    answer = adds(signer, record, **changes)
    assert answer.status_code == status
    assert word.lower() in answer.text.lower()
    assert open_record(db, record).case.rows("addenda") == []
    assert db["added_paper"].count == 0


def test_what_was_typed_is_still_there_when_it_is_not_taken(signer, record):
    answer = adds(signer, record, text="A long remark.", password="wrong")
    assert "A long remark." in answer.text


def test_an_unsigned_record_is_corrected_and_not_added_to(signer, tablet, db):
    record = sends_case(tablet, "demo/1-clean-emergency")
    answer = adds(signer, record)
    assert answer.status_code == 400
    assert "Nothing is signed yet" in answer.text


@pytest.mark.parametrize("who", ["recorder", "coder", "administrator"])
def test_only_operators_and_supervisors_add(cast, record, who):
    person = getattr(cast, who)
    person.signs_in()
    assert person.opens(f"/records/{record}/added").status_code == 403
    sent = person.posts(f"/records/{record}/added", page="/sign-in")
    assert sent.status_code == 403


def test_nobody_adds_without_signing_in(client, record):
    assert client.get(f"/records/{record}/added").status_code in (302, 401)


@pytest.mark.parametrize("number", ["2", "0", "999999999999999999999"])
def test_a_paper_that_is_not_there_is_not_found(signer, record, number):
    adds(signer, record)
    answer = signer.opens(f"/records/{record}/added/{number}.pdf")
    assert answer.status_code == 404


def withdraws(signer, record):
    return adds(signer, record, kind="withdrawal", because="It was another patient's.")


def test_a_withdrawn_record_opens_only_with_a_reason_that_is_written_down(
    signer, db, record
):
    withdraws(signer, record)
    assert one_listed(db, record).state == "withdrawn"
    for page in ("", "/note.pdf", "/entries", "/added/1.pdf", "/sign"):
        answer = signer.opens(f"/records/{record}{page}")
        assert answer.headers["Location"] == f"/records/{record}/withdrawn"
    asks = signer.opens(f"/records/{record}/withdrawn").text
    assert one_listed(db, record).who not in asks
    assert "It was another patient&#39;s." in asks
    assert signer.posts(f"/records/{record}/withdrawn").status_code == 400
    signer.posts(f"/records/{record}/withdrawn", because="Asked for by the court.")
    assert signer.opens(f"/records/{record}").status_code == 200
    whys = [
        line.detail
        for line in access_log.of_record(db, record)
        if line.what == "record:open_withdrawn"
    ]
    assert whys == ["Asked for by the court."]


def test_a_withdrawn_record_is_neither_signed_nor_added_to(signer, db, record):
    withdraws(signer, record)
    signer.posts(f"/records/{record}/withdrawn", because="To look.")
    assert signer.opens(f"/records/{record}/sign").status_code == 409
    assert adds(signer, record).status_code == 400
    assert len(open_record(db, record).case.rows("addenda")) == 1


def test_an_unsigned_record_can_be_withdrawn(signer, tablet, db):
    record = sends_case(tablet, "demo/1-clean-emergency")
    assert withdraws(signer, record).status_code == 302
    assert one_listed(db, record).state == "withdrawn"


def test_a_coder_still_gets_every_line_of_a_withdrawn_note_as_removed(
    cast, signer, record
):
    coder = cast.coder
    coder.signs_in()
    before = coder.opens(f"/records/{record}/codes.csv").text.splitlines()
    withdraws(signer, record)
    after = coder.opens(f"/records/{record}/codes.csv").text.splitlines()
    assert len(after) == len(before)
    assert all(",removed," in line for line in after[1:])
    page = coder.opens(f"/coding/{record}")
    assert page.headers["Location"] == f"/records/{record}/withdrawn"


def test_the_paper_is_the_one_the_addendum_names_and_verify_holds_it(
    signer, db, record
):
    [late] = late_of(db, record)
    adds(signer, record, take_up=late)
    [row] = open_record(db, record).case.rows("addenda")
    pdf = signer.opens(f"/records/{record}/added/1.pdf").data
    assert hashlib.sha256(pdf).hexdigest() == row.value["pdf_sha256"]
    assert list(breaks(db)) == []


def test_two_who_add_at_once_add_one_after_the_other(signer, db, record, cast):
    page = f"/records/{record}/added"
    fields = {"kind": "addendum", "password": PASSWORD}
    assert adds(signer, record, text="first").status_code == 302
    assert adds(signer, record, text="second").status_code == 302
    assert [
        row.get("number") for row in open_record(db, record).case.rows("addenda")
    ] == [
        "1",
        "2",
    ]
    assert signer.posts(page, **fields).status_code == 409
