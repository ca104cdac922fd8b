"""A site in which every table has rows: for tests of what keeps them whole."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from tests.support.cast import PASSWORD, Cast
from tests.support.photographs import png, takes_photo
from tests.support.sent_cases import sends_case
from tests.support.signing import adds, signs
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect, writing
from webapp.people import accounts
from webapp.record import desk, erase
from webapp.record.entry import Header, uuid7
from webapp.settings import Settings, load

SITE = """
hospital = "Example Harbour Hospital"
facility = "EHH"
zone = "Europe/Oslo"
"""
CASE = "demo/1-clean-emergency"
NAME = "patient.family_name"


def filled_site(home: Path) -> Settings:
    """Make a site with a signed record and one of everything else; return it."""
    (home / "wiremark.toml").write_text(SITE, encoding="utf-8")
    site = load(home)
    app = create_app(site)
    db = connect(site.database)
    try:
        _fill(Cast(app, db), db)
    finally:
        close_held()
        db.conn.close()
    return site


def summed_rows(file: Path) -> dict[str, int]:
    """Return how many rows each table has."""
    with closing(sqlite3.connect(file)) as db:
        names = db.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table'"
        ).fetchall()
        return {
            name: db.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]
            for (name,) in names
        }


def _fill(cast: Cast, db) -> None:
    tablet = cast.tablet()
    record = sends_case(tablet, CASE)
    signer = cast.signer
    signer.signs_in()
    signs(signer, record)
    tablet.sets(record, NAME, "KNOWN ONLY LATER")
    tablet.syncs()
    adds(signer, record)
    cast.coder.signs_in("not the password")
    cast.tablet().signs_in(signer.person.login, PASSWORD)
    _damaged_and_mended(tablet)
    _erased(tablet, db, signer.person)
    _declined(tablet)
    _held_of_others(tablet, record)
    _photographed(tablet, db, signer.person)
    _by_hand(db, record)


def _damaged_and_mended(tablet) -> None:
    other = tablet.opens()
    tablet.sets(other, NAME, "FJORDMERE")
    body = bytearray(tablet.request())
    body[-1] ^= 1
    tablet.posts(bytes(body))
    tablet.syncs()


def _erased(tablet, db, person: accounts.Person) -> None:
    record = tablet.opens()
    entry = tablet.sets(record, NAME, "TYPED INTO THE WRONG CASE")
    tablet.sets(record, "patient.given_name", "TEST")
    tablet.syncs()
    writer = desk.Writer(person.id, person.name, "supervisor", "Europe/Oslo")
    erase.erase(db, entry, writer, "another patient's name")


def _declined(tablet) -> None:
    record = tablet.opens()
    tablet.sets(record, NAME, "STRANDMERE")
    tablet.syncs()
    tablet.writer.tip -= 1
    tablet.sets(record, NAME, "OTHER WORDS IN THE SAME PLACE")
    tablet.exchanges([tablet.own[-1]])


def _held_of_others(tablet, record: str) -> None:
    gone = Header(1, uuid7(), record, "desk", 99, "-").encode().decode()
    told = [{"record": record, "since": 0, "tips": [], "holds": [gone]}]
    tablet.posts(tablet.request(open=told))


def _photographed(tablet, db, person: accounts.Person) -> None:
    takes_photo(tablet, png())
    takes_photo(tablet, png(30, 20))
    entry = tablet.own[-1].header.id
    writer = desk.Writer(person.id, person.name, "supervisor", "Europe/Oslo")
    erase.erase(db, entry, writer, "another patient's image")


def _by_hand(db, record: str) -> None:
    """Write the rows that no exchange of this case makes."""
    with writing(db):
        db.conn.execute(
            "INSERT INTO export_log VALUES ('e', 'then', 'p', 'csv', ?, 1, 'sum')",
            (record,),
        )
        db.conn.execute(
            "INSERT INTO code_line VALUES"
            " (?, 1, 'k', 'v', 'r', '1', 's', '1', 'c', 'words')",
            (record,),
        )
