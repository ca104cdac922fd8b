"""What was sent and does not count stands on the record's page, with its reason."""

import re

import pytest

from tests.support.replies import NAME
from webapp.db import writing
from webapp.record import desk_log, log
from webapp.record.erase import erase
from webapp.record.rulings import SERVER

TYPED = {"as": "340 cm or so", "n": "x"}


@pytest.fixture
def record(read_record):
    return read_record


def section(cast, record):
    page = cast.signer.opens(f"/records/{record}")
    assert page.status_code == 200
    found = re.search(r'<section class="desk-aside".*?</section>', page.text, re.S)
    return found[0] if found else ""


def counted(cast, record):
    """The column of what does not count, in the list of records."""
    page = cast.signer.opens("/records").text
    row = re.search(rf'/records/{record}".*?</tr>', page, re.S)[0]
    return [int(n) for n in re.findall(r'<td class="n"[^>]*>(\d+)</td>', row)][-1]


def test_a_record_where_everything_counts_shows_nothing_of_it(cast, record):
    assert section(cast, record) == ""
    assert counted(cast, record) == 0


def test_what_is_set_aside_is_told_as_typed_with_who_and_why(cast, record, tablet):
    tablet.sets(record, "patient.weight", TYPED)
    tablet.sets(record, "nowhere.at_all", "a word <b>")
    tablet.syncs()
    shown = section(cast, record)
    assert "Sent, and not counted: 2" in shown
    assert "340 cm or so" in shown
    assert "Its value is not of the kind this field takes." in shown
    assert "a word &lt;b&gt;" in shown
    assert "This server has no such field." in shown
    assert shown.count("Test-Mira FJORDHOLM") == 2
    assert tablet.name in shown
    assert counted(cast, record) == 2


def test_a_conflict_is_opened_and_told_as_typed(cast, record, tablet):
    tablet.writer.tip -= 1
    tablet.sets(record, NAME, "SOMEBODY ELSE")
    reply = tablet.exchanges([tablet.own[-1]])
    assert reply["answers"][0]["answer"] == "conflict"
    shown = section(cast, record)
    assert ">conflict<" in shown
    assert "SOMEBODY ELSE" in shown
    assert "Another entry already stands" in shown
    assert "Test-Mira FJORDHOLM" in shown
    assert counted(cast, record) == 1


def test_a_refused_entry_says_what_it_can(cast, record, tablet, other_tablet):
    other_tablet.opens(record)
    other_tablet.writer.log = tablet.writer.log
    other_tablet.sets(record, NAME, "SOMEBODY ELSE")
    reply = other_tablet.exchanges([other_tablet.own[-1]])
    assert reply["answers"][0]["answer"] == "refused"
    shown = section(cast, record)
    assert ">refused<" in shown
    assert "Its log belongs to another tablet." in shown
    assert other_tablet.name in shown


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"{}",
        b"\xff\xfe no text",
        b'{"path": "\\ud800"}',
        b"[" * 20_000,
        b"NUL \0 and \x1b[2J",
        b"x" * 60_000,
    ],
    ids=["empty", "no entry", "no UTF-8", "half a pair", "deep", "controls", "long"],
)
def test_bytes_that_are_no_entry_are_shown_as_far_as_they_are_text(
    cast, record, tablet, raw
):
    tablet.writes_bytes(record, raw)
    tablet.syncs()
    shown = section(cast, record)
    assert "Its content could not be read." in shown
    assert "what it says cannot be read" in shown
    assert len(shown) < 10_000
    assert cast.signer.opens(f"/records/{record}/entries").status_code == 200


def test_a_sealed_body_says_so_in_the_list_of_entries(cast, record, tablet):
    tablet.writer.wraps.clear()
    tablet.sets(tablet.opens(record), NAME, "ALDERMERE-STRAND")
    found = tablet.own[-1]
    object.__setattr__(found, "sealed", found.sealed[:-1] + b"!")
    tablet.exchanges([found])
    assert "This server could not open its seal." in section(cast, record)
    page = cast.signer.opens(f"/records/{record}/entries").text
    assert "Erased, or never readable" in page


def test_a_later_ruling_and_an_erasure_are_told_in_words(cast, record, tablet, db):
    aside = tablet.sets(record, "nowhere.at_all", "a word")
    erased = tablet.sets(record, "patient.given_name", "Test-Wrong")
    tablet.syncs()
    with writing(db):
        told = {"entry": aside, "ruling": "set_aside", "because": "No such field yet."}
        body = {**desk_body("rulings", told)}
        desk_log.append(db, record, body)
    erase(db, erased, SERVER, "Another patient's name.")
    place = log.entry_by_id(db, aside).position
    gone = log.entry_by_id(db, erased).position
    page = cast.signer.opens(f"/records/{record}/entries").text
    assert f"The entry at position {place} was read anew and stays set aside." in page
    assert "No such field yet." in page
    assert f"Erased what stood at position {gone}: Another patient&#39;s name." in page
    assert "Erased: Another patient&#39;s name." in page
    assert "Test-Wrong" not in page
    named = cast.signer.opens(f"/records/{record}/entries?path=patient.given_name")
    assert "Erased: Another patient&#39;s name." in named.text
    assert "<td>erased</td>" in named.text
    assert f'href="#{aside}"' in page


def test_an_entry_that_came_to_count_says_since_when(cast, record, tablet, db):
    good = tablet.sets(record, NAME, "ALDERMERE-STRAND")
    whole = tablet.own[-1]
    damaged = type(whole)(whole.header, whole.body, whole.sealed[:-1] + b"!")
    tablet.exchanges([damaged])
    assert "This server could not open its seal." in section(cast, record)
    tablet.exchanges([whole])
    assert section(cast, record) == ""
    found = log.entry_by_id(db, good)
    page = cast.signer.opens(f"/records/{record}/entries").text
    assert f"counted, ruled again at position {found.told_at}" in page
    assert f"The entry at position {found.position} counts from now on." in page


def test_a_strike_is_told_by_the_place_it_strikes(cast, record, tablet, db):
    row = tablet.adds(record, "patient.people", {"role": "operator"})
    tablet.strikes(record, "patient.people", row, "wrong case")
    tablet.syncs()
    place = log.entry_by_id(db, row).position
    page = cast.signer.opens(f"/records/{record}/entries").text
    assert f"Strikes what stands at position {place}. wrong case" in page


def desk_body(path, value):
    from webapp.record.rulings import by_server

    return by_server(path, value)
