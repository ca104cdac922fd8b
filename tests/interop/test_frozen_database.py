"""A database of an earlier release is carried over whole: fixtures/frozen/.

What the frozen file holds was written down beside it on the day it was made, by the
code of that day. How it was made: fixtures/sources.md, "Frozen files".
"""

from __future__ import annotations

import json
import shutil
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from sqlite_utils import Database

from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect, migrate
from webapp.paths import migrations_folder
from webapp.record import log
from webapp.record.entry import GENESIS_CHAIN, chain, digest, sha256_hex
from webapp.record.keyring import Keyring
from webapp.record.open_record import open_record
from webapp.record.records import one_listed, refresh_stale
from webapp.record.verify import breaks
from webapp.settings import DATABASE_FILE, load
from webapp.views.paper import stored_note

FROZEN = Path(__file__).resolve().parents[2] / "fixtures" / "frozen"
TOLD: dict[str, Any] = json.loads((FROZEN / "schema-2.json").read_text("utf-8"))
RECORDS = {told["id"]: told for told in TOLD["records"]}
COLUMNS = ("who", "born", "number", "encounter", "outcome", "note_version")
# The release before had one word for a signed record, added to or not.
STATES = {"not_signed": ("not_signed",), "signed": ("signed", "addended", "withdrawn")}


@pytest.fixture
def home(tmp_path) -> Path:
    """A site's home as it was left by the earlier release."""
    shutil.copy(FROZEN / "schema-2.db", tmp_path / DATABASE_FILE)
    keys = tmp_path / "keys"
    keys.mkdir(mode=0o700)
    name = f"{TOLD['server_key']}.pem"
    shutil.copy(FROZEN / "test-server-key.pem", keys / name)
    (tmp_path / "wiremark.toml").write_text(TOLD["site"], encoding="utf-8")
    return tmp_path


@pytest.fixture
def carried(home) -> Database:
    """The earlier database, migrated by today's code."""
    db = connect(home / DATABASE_FILE)
    migrate(db)
    yield db
    db.conn.close()


def test_the_frozen_file_is_of_the_earlier_release(home):
    db = connect(home / DATABASE_FILE)
    applied = [row["name"] for row in db["_sqlite_migrations"].rows]
    assert applied == ["m0001_log", "m0002_code_line"]
    later = len(list(migrations_folder().glob("m[0-9]*.py"))) - len(applied)
    assert len(migrate(db)) == later
    assert migrate(db) == []
    db.conn.close()


def test_every_entry_keeps_its_place_digest_chain_and_ruling(carried):
    found = log.entries_by_id(carried, [told["id"] for told in TOLD["entries"]])
    assert [_kept(found[told["id"]]) for told in TOLD["entries"]] == TOLD["entries"]
    assert log.head(carried).position == len(TOLD["entries"])


def test_digests_and_chain_can_still_be_worked_out_from_the_bytes(carried):
    before = GENESIS_CHAIN
    for told in TOLD["entries"]:
        entry = log.entry_by_id(carried, told["id"])
        own = digest(entry.header.encode(), sha256_hex(entry.body))
        before = chain(before, own)
        assert (own, before) == (told["digest"], told["chain"])


def test_every_record_says_what_it_said(carried):
    refresh_stale(carried)
    assert set(log.record_ids(carried)) == set(RECORDS)
    for record, told in RECORDS.items():
        folded = open_record(carried, record).case.fold
        assert {part: folded[part] for part in told["fold"]} == told["fold"]
        line = one_listed(carried, record)
        assert {c: getattr(line, c) for c in COLUMNS} == {c: told[c] for c in COLUMNS}
        assert line.state in STATES[told["state"]]


def test_every_note_is_the_very_bytes_that_were_signed(carried):
    assert TOLD["notes"]
    for told in TOLD["notes"]:
        note = stored_note(carried, told["record"], told["version"])
        assert sha256_hex(note.pdf) == told["pdf_sha256"] == note.pdf_sha256
        [row] = carried["note"].rows_where(
            "record = ? AND version = ?", [told["record"], told["version"]]
        )
        assert row["content_digest"] == told["content_digest"]


def test_what_was_set_aside_still_is_and_says_why(carried):
    told = [e for e in TOLD["entries"] if e["ruling"] == "set_aside"]
    found = [e for r in RECORDS for e in open_record(carried, r).set_aside]
    assert len(told) == 5
    assert {(e.header.id, e.because) for e in found} == {
        (e["id"], e["because"]) for e in told
    }


def test_today_s_proof_finds_nothing_wrong_with_it(home, carried):
    refresh_stale(carried)
    assert [one.where for one in breaks(carried, Keyring(home))] == []


def test_today_s_proof_finds_a_body_that_was_changed_before_it_was_carried_over(home):
    changed = TOLD["entries"][4]
    db = sqlite3.connect(home / DATABASE_FILE)
    db.execute("DROP TRIGGER body_never_changes")
    db.execute(
        "UPDATE body SET bytes = replace(bytes, 'Mira', 'Mora') WHERE position = ?",
        [changed["position"]],
    )
    db.commit()
    db.close()
    carried = connect(home / DATABASE_FILE)
    migrate(carried)
    told = [one.where for one in breaks(carried, Keyring(home))]
    assert any(str(changed["position"]) in where.split() for where in told)
    carried.conn.close()


def test_today_s_application_starts_on_it(home):
    app = create_app(load(home))
    assert app.test_client().get("/sign-in").status_code == 200
    close_held()


def _kept(entry: log.LoggedEntry) -> dict[str, Any]:
    return {
        "position": entry.position,
        "id": entry.header.id,
        "body_sha256": sha256_hex(entry.body),
        "digest": entry.digest,
        "chain": entry.chain,
        "ruling": entry.ruling,
        "because": entry.because,
    }
