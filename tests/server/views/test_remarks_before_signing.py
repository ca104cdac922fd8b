"""Remarks that stand: each is answered at the desk, and stands before signing."""

from __future__ import annotations

import pytest

from tests.support.html import Page
from tests.support.remarked_pages import beside_fields, words
from tests.support.sent_cases import sends_case
from tests.support.signing import signs
from webapp.clinical.policy import load
from webapp.record.open_record import open_record
from webapp.record.remarked import remarked

STUCK = {
    "event": "removal_here",
    "balloon_down": "no",
    "syringe_empty": "no",
    "resistance": "yes",
    "tip_complete": "no",
    "electrodes_complete": "no",
    "length_complete": "no",
    "completed": "entrapment",
}
SAID = {
    "removal_resistance",
    "removal_tip_missing",
    "removal_electrodes_missing",
    "removal_length_missing",
    "removal_not_completed",
    "removal_balloon_up",
    "removal_syringe",
}


@pytest.fixture
def tablet(cast):
    return cast.tablet()


@pytest.fixture
def half(tablet):
    """A record with several remarks of weight Look again."""
    return sends_case(tablet, "demo/5-half-entered")


@pytest.fixture
def stuck(tablet):
    """A record of a wire that could not be taken out whole."""
    return removal(tablet, STUCK)


def removal(tablet, told):
    """Send a record of one balloon-tipped wire and its removal; return its id."""
    record = tablet.opens()
    wire = tablet.adds_wire(record)
    tablet.sets(record, f"wires/{wire}/approach.wire_kind", "balloon_tipped")
    for name, value in told.items():
        tablet.sets(record, f"wires/{wire}/removal.{name}", value)
    tablet.syncs()
    return record


def at_removal(signer, record):
    html = signer.opens(f"/records/{record}").text
    return {o.code: o for o in beside_fields(html) if o.code.startswith("removal_")}


def before_signing(signer, record, page):
    """Return the remarks listed on a page before signing: words and where they lead."""
    read = Page(signer.opens(f"/records/{record}{page}").text)
    return [
        (words(read, tag.parent), tag["href"])
        for tag in read.tags
        if tag.name == "a" and tag.parent and "data-weight" in tag.parent
        and tag.parent.parent and tag.parent.parent.has_class("remarks-before")
    ]  # fmt: skip


def left(db, record):
    return [r for r in remarked(open_record(db, record).case, load()) if r.is_open]


def answers(signer, record, one):
    page = f"/records/{record}"
    sends = {k: v for k, v in one.sends.items() if k != "csrf_token"}
    return signer.posts(
        f"{page}/remark", page=page, **{**sends, "answer": "seen_otherwise"}
    )


def test_every_remark_at_a_removal_has_a_form(signer, stuck):
    found = at_removal(signer, stuck)
    assert found.keys() == SAID
    assert [code for code, one in found.items() if not one.sends] == []


@pytest.mark.parametrize("code", sorted(SAID))
def test_a_remark_at_a_removal_takes_an_answer(signer, stuck, code):
    assert answers(signer, stuck, at_removal(signer, stuck)[code]).status_code == 302
    assert "Seen, chose otherwise, by" in at_removal(signer, stuck)[code].text


def test_what_was_put_right_says_so_and_asks_for_no_answer(signer, tablet):
    out = {"event": "removal_here", "resistance": "yes", "ending": "replaced"}
    one = at_removal(signer, removal(tablet, out))["removal_resistance"]
    assert "Put right since." in one.text
    assert one.sends == {}


@pytest.mark.parametrize("case", ["demo/3-complication", "demo/5-half-entered"])
def test_a_form_stands_where_a_remark_stands_and_nowhere_else(signer, db, tablet, case):
    record = sends_case(tablet, case)
    shown = beside_fields(signer.opens(f"/records/{record}").text)
    told = remarked(open_record(db, record).case, load())
    asks = {(r.path, r.found.name) for r in told if r.asks_answer and r.stands}
    assert {(one.line, one.code) for one in shown if one.sends} == asks


def test_a_remark_tells_the_time_of_day_of_what_it_rests_on(signer, db, half):
    shown = {
        o.code: o.text for o in beside_fields(signer.opens(f"/records/{half}").text)
    }
    found = remarked(open_record(db, half).case, load())
    timed = [r for r in found if r.as_at]
    assert timed
    for remark in timed:
        word = "As at" if remark.as_at.is_own else "As entered"
        assert word in shown[remark.found.name]


def test_the_sign_page_lists_what_stands_unanswered_with_links(signer, db, half):
    found = before_signing(signer, half, "/sign")
    assert [href for _, href in found] == [
        f"/records/{half}#{r.path}" for r in left(db, half)
    ]
    for (told, _), remark in zip(found, left(db, half), strict=True):
        assert f"{remark.word}: {remark.finding}" in told


def test_the_record_lists_the_same_beside_the_key_that_signs(signer, db, half):
    found = before_signing(signer, half, "")
    assert [href for _, href in found] == [f"#{r.path}" for r in left(db, half)]


def test_an_answered_remark_is_no_longer_before_the_signature(signer, db, stuck):
    assert "removal_syringe" in {r.found.name for r in left(db, stuck)}
    listed = len(before_signing(signer, stuck, "/sign"))
    answers(signer, stuck, at_removal(signer, stuck)["removal_syringe"])
    assert len(before_signing(signer, stuck, "/sign")) == listed - 1


def test_what_was_put_right_is_not_before_the_signature(signer, tablet):
    out = {"event": "removal_here", "resistance": "yes", "ending": "replaced"}
    record = removal(tablet, out)
    told = " ".join(told for told, _ in before_signing(signer, record, "/sign"))
    assert at_removal(signer, record)["removal_resistance"].text[:40] not in told


def test_remarks_that_nobody_answered_keep_nobody_from_signing(signer, db, stuck):
    assert left(db, stuck)
    assert signs(signer, stuck).status_code == 302


def test_a_record_without_remarks_says_nothing_of_them(signer, tablet):
    record = tablet.opens()
    tablet.sets(record, "patient.age_class", "adult")
    tablet.syncs()
    page = signer.opens(f"/records/{record}/sign").text
    assert "Remarks that stand" not in page
