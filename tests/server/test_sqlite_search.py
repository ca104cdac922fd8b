"""Searching the records takes every sign for itself, and nothing fails on any."""

import pytest

from tests.support.hostile import LINES
from tests.support.replies import NAME
from webapp.record.records import listed

# The string set of published bug reports on search and on text.
STRINGS = [
    *LINES,
    "POL-358",
    "AND",
    "NEAR(",
    '"',
    "*",
    "(",
    "%",
    "_",
    "100%",
    "a_b",
    "\\",
    "';--",
]
NUMBER = "patient.record_number"


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """A record for each string, one that has none, and somebody who searches."""
    from tests.support.cast import Cast
    from webapp.app import create_app
    from webapp.db import connect
    from webapp.settings import Settings

    home = tmp_path_factory.mktemp("desk")
    app = create_app(Settings(home=home))
    app.config["TESTING"] = True
    db = connect(home / "wiremark.db")
    cast = Cast(app, db)
    tablet = cast.tablet()
    records = {}
    for string in [*STRINGS, "plain"]:
        records[string] = tablet.opens()
        tablet.sets(records[string], NAME, string)
    tablet.syncs()
    cast.signer.signs_in()
    yield cast.signer, db, records
    db.conn.close()


@pytest.mark.parametrize("string", STRINGS, ids=ascii)
def test_each_string_finds_the_record_that_holds_it(desk, string):
    signer, _, records = desk
    page = signer.client.get("/records", query_string={"q": string})
    assert page.status_code == 200
    assert records[string] in page.text
    assert records["plain"] not in page.text


@pytest.mark.parametrize("string", ["%", "_", "%%", "a%b", "pl_in", "p%n"])
def test_signs_that_some_take_for_any_sign_find_only_themselves(desk, string):
    _, db, records = desk
    found = {row.id for row in listed(db, string)}
    assert found == {records[held] for held in STRINGS if string in held}


@pytest.mark.parametrize(
    ("asked", "held"),
    [
        ("łukasz żółć", "Łukasz Żółć"),
        ("ŻÓŁĆ", "Łukasz Żółć"),
        ("NGUYỄN", "Nguyễn Thị Hằng"),
        ("\u00e9", "e\u0301"),
        ("o'brien", "O'Brien-Smith"),
        ("  pol-358 ", "POL-358"),
    ],
    ids=ascii,
)
def test_large_and_small_letters_find_each_other_in_every_script(desk, asked, held):
    _, db, records = desk
    assert [row.id for row in listed(db, asked)] == [records[held]]


@pytest.mark.parametrize(
    "query", ["%00", "%1B", "%ED%A0%80", "%FF", "a" * 5000, "%09", "a%0D%0Ab"]
)
def test_any_bytes_of_a_query_are_answered(desk, query):
    signer, _, _ = desk
    page = signer.opens(f"/records?q={query}")
    assert page.status_code == 200


def test_nothing_found_is_said_and_is_not_an_error(desk):
    signer, _, _ = desk
    page = signer.opens("/records?q=nobody-has-this-name")
    assert (page.status_code, "No record fits." in page.text) == (200, True)
