"""A clock that wrote nonsense: the entry stands, and every page of everybody opens."""

from urllib.parse import urlencode

import pytest

from tests.support.tablet import stamp
from webapp.record import records

DESK = ("", "/sign", "/entries", "/note.pdf")
ENTRY = stamp("Europe/Oslo")
MOMENT = {**ENTRY, "certainty": "exact", "clock": "tablet"}
# What a clock may write: no such day, the ends of what Python's dates hold, no text.
BROKEN = {
    "no such month": {"utc": "2031-99-99T00:00:00.000Z"},
    "no such hour": {"utc": "2031-11-24T25:00:00.000Z"},
    "the last millisecond": {"utc": "9999-12-31T23:59:59.999Z"},
    "the first second": {"utc": "0001-01-01T00:00:00.000Z", "offset_min": -600},
    "without a zone": {"utc": "2031-11-24T10:41:07.123"},
    "far from UTC": {"offset_min": 10**15},
    "no such zone": {"zone": "../../etc/passwd"},
    "a skew of ages": {"skew_ms": 2**53 - 1},
}


# A body whose time is no text cannot be read and is set aside; a value may hold it.
BROKEN_VALUES = {**BROKEN, "a number": {"utc": 7}}


def opens_everywhere(cast, record):
    cast.signer.signs_in()
    pages = ["/records", *(f"/records/{record}{page}" for page in DESK)]
    told = {page: cast.signer.opens(page).status_code for page in pages}
    cast.coder.signs_in()
    for page in ("/coding", f"/coding/{record}"):
        told[page] = cast.coder.opens(page).status_code
    assert set(told.values()) == {200}, told


@pytest.mark.parametrize("at", BROKEN.values(), ids=list(BROKEN))
def test_an_entry_of_a_broken_clock_closes_no_page(cast, tablet, db, at):
    record = tablet.opens()
    broken = {**ENTRY, "skew_ms": None, **at}
    tablet.sets(record, "patient.family_name", "ALDERMERE", at=broken)
    tablet.sets(record, "patient.birth_date", {"as": "1.2.31", "date": "1931-02-01"})
    tablet.syncs()
    opens_everywhere(cast, record)
    assert records.one_listed(db, record).who.startswith("ALDERMERE")


@pytest.mark.parametrize("at", BROKEN_VALUES.values(), ids=list(BROKEN_VALUES))
def test_a_moment_of_a_broken_clock_closes_no_page(cast, tablet, at):
    record = tablet.opens()
    value = {**MOMENT, **{k: v for k, v in at.items() if k != "skew_ms"}}
    tablet.adds(record, "moments", {"name": "decision", "moment": value})
    tablet.sets(record, "approach.first_puncture", value)
    tablet.sets(record, "finish.dressing_on", MOMENT)
    tablet.syncs()
    opens_everywhere(cast, record)


def test_a_line_over_two_centuries_is_drawn_with_ten_ticks(cast, tablet):
    record = tablet.opens()
    for year in ("1970", "2199"):
        at = {**MOMENT, "utc": f"{year}-06-01T00:00:00.000Z"}
        tablet.adds(record, "moments", {"name": "decision", "moment": at})
    tablet.syncs()
    opens_everywhere(cast, record)
    cast.signer.signs_in()
    assert len(cast.signer.opens(f"/records/{record}").text) < 400_000


@pytest.mark.parametrize("version", ["9" * 30, "-1", "١", "x"])
def test_a_version_that_no_note_has_is_not_found(cast, tablet, version):
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", "ALDERMERE")
    tablet.syncs()
    cast.signer.signs_in()
    page = f"/records/{record}/note.pdf?{urlencode({'version': version})}"
    assert cast.signer.opens(page).status_code == 404


@pytest.mark.parametrize(
    "changes", [{"digest": "é"}, {"digest": ""}, {"digest": "0" * 64, "upto": "9" * 30}]
)
def test_a_digest_that_is_not_the_one_read_signs_nothing(cast, tablet, db, changes):
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", "ALDERMERE")
    tablet.syncs()
    cast.signer.signs_in()
    fields = {"upto": "0", "agree": "yes", "password": "x", **changes}
    assert cast.signer.posts(f"/records/{record}/sign", **fields).status_code == 409
    assert records.one_listed(db, record).state != "signed"


def test_json_deeper_than_any_answer_is_refused_with_a_word(cast, tablet):
    record = tablet.opens()
    tablet.sets(record, "patient.family_name", "ALDERMERE")
    tablet.syncs()
    deep = "[" * 100_000
    cast.signer.signs_in()
    fields = {"path": "patient.family_name", "value": deep, "seen": "[]"}
    said = cast.signer.posts(f"/records/{record}/say", **fields)
    assert said.status_code == 400
    head = {
        "Authorization": f"Bearer {tablet.token}",
        "Content-Type": "application/json",
    }
    answer = tablet.transport.post("/tablet/person", deep.encode(), head)
    assert answer.status == 400
