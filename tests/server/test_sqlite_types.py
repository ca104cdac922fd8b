"""What identifies is text in every table, so that no column rewrites it."""

import pytest

from tests.support.cast import ADMINISTRATOR
from webapp.record.records import one_listed

# Counted, never spoken of: whole numbers of our own making.
NUMBERS = {
    "added_paper.number",
    "entry.position", "entry.v", "entry.seq",
    "body.position", "erasure.position",
    "later_body.position", "later_ruling.id", "later_ruling.position",
    "limits_use.number", "later_ruling.told_at", "ruling.id", "ruling.position",
    "receipt.first", "receipt.last",
    "lost.seq", "not_kept.id", "not_kept.seq", "not_kept.behind",
    "announced.tip", "tablet_log.announced_tip", "tablet_log.held",
    "witness.position", "access_log.id", "sign_in_failure.id",
    "person.session_version", "code_line.line", "note.version", "export_log.rows",
    "record.fold_version", "record.folded_to", "record.open_questions",
    "record.two_answers", "record.late_entries", "record.set_aside",
    "record.note_version",
    "photo_view.size", "photo_view.width", "photo_view.height",
}  # fmt: skip
BYTES = {
    "added_paper.pdf",
    "body.bytes", "later_body.bytes", "note.pdf", "not_kept.sealed",
    "photo.bytes", "photo_view.jpeg",
    "row_sum.sha256", "server_key.spki", "wrap.epk", "wrap.nonce", "wrap.wrapped",
}  # fmt: skip
CLOCKS = {"sign_in_failure.at"}
# Values that a number's column rewrites (published bug reports on SQLite exports).
ODD = ["007", "00120.50", "1e5", "0x10", "12345678901234567890", "1_0", " 7", "1."]


def columns(db):
    names = [n for n in db.table_names() if not n.startswith(("_sqlite", "sqlite_"))]
    return {f"{n}.{c.name}": c.type for n in names for c in db[n].columns}


def test_every_column_is_text_but_counts_bytes_and_one_clock(db):
    found = columns(db)
    assert {c for c, kind in found.items() if kind == "INTEGER"} == NUMBERS
    assert {c for c, kind in found.items() if kind == "BLOB"} == BYTES
    assert {c for c, kind in found.items() if kind == "REAL"} == CLOCKS
    others = {c: kind for c, kind in found.items() if c not in NUMBERS | BYTES | CLOCKS}
    assert set(others.values()) == {"TEXT"}


@pytest.mark.parametrize("value", ODD)
def test_an_identifier_comes_back_from_every_text_column_as_it_went_in(db, value):
    """The type as declared is what decides, so one table of each stands for all."""
    kinds = set(columns(db).values())
    db.conn.execute("CREATE TEMP TABLE probe (text TEXT, number INTEGER)")
    db.conn.execute("INSERT INTO probe VALUES (?, ?)", (value, value))
    told = db.conn.execute("SELECT text, typeof(text) FROM probe").fetchone()
    assert tuple(told) == (value, "text")
    assert "TEXT" in kinds


@pytest.mark.parametrize("value", [v for v in ODD if v.strip() == v])
def test_a_number_typed_at_the_bedside_stands_so_on_every_page(tablet, cast, db, value):
    record = tablet.opens()
    tablet.sets(record, "patient.record_number", value)
    tablet.sets(record, "patient.encounter_number", value)
    tablet.syncs()
    row = one_listed(db, record)
    assert (row.number, row.encounter) == (value, value)
    cast.signer.signs_in()
    assert f"· no. {value}</small>" in cast.signer.opens(f"/records?q={value}").text
    assert tablet.shows(record, "patient.record_number") == [value]


def test_an_npi_that_begins_with_a_nought_would_keep_it(cast, db):
    person = cast.administrator.person
    db.conn.execute("UPDATE person SET npi = '0012345678' WHERE id = ?", (person.id,))
    (npi,) = db.conn.execute(
        "SELECT npi FROM person WHERE login = ?", (ADMINISTRATOR.login,)
    ).fetchone()
    assert npi == "0012345678"
