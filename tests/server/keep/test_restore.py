"""`wiremark restore`: proven first, nothing destroyed, and tablets bring the rest."""

import json
import os
import shutil
import signal
import subprocess
import sys
from contextlib import contextmanager
from dataclasses import astuple
from pathlib import Path

import pytest
from sqlite_utils import Database

from tests.support.cast import PASSWORD, Cast
from tests.support.replies import NAME
from tests.support.server import LiveServer
from tests.support.transport import InProcess, OverHttp
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect
from webapp.keep.backup import back_up
from webapp.keep.copies import last_backup
from webapp.keep.held import Held, alone, holding
from webapp.keep.stamp import Stamp, put_stamp
from webapp.people import accounts, tablets
from webapp.record import desk, log, lost
from webapp.record.erase import erase
from webapp.settings import load

LATER = "ALDERMERE-STRAND"
FROZEN = Path(__file__).resolve().parents[3] / "fixtures" / "frozen"
NOTE = {"person": None, "name": "Test-Ines ALDERMERE", "role": "operator"}
BROKEN_OFF = """
import os, signal, sys
from pathlib import Path
from webapp.keep import restore
from webapp.settings import load

renames = 0
def dies(one, other, rename=os.rename):
    global renames
    if renames == int(sys.argv[2]):
        os.kill(os.getpid(), signal.SIGKILL)
    renames += 1
    rename(one, other)

site = load()
planned = restore.plan(site, Path(sys.argv[1]))
restore.os.rename = dies
restore.restore(site, planned)
"""


@pytest.fixture
def yesterday(record, site, tmp_path):
    """A backup of the first three entries."""
    file = tmp_path / "yesterday.db"
    back_up(site, file)
    return file


@pytest.fixture
def stopped(db):
    """Nobody works in the home: what tests hold open is closed."""

    def stops():
        close_held()
        db.conn.close()

    return stops


def rows(database):
    found = connect(database)
    told = [tuple(row) for row in found.conn.execute("SELECT id, digest FROM entry")]
    found.conn.close()
    return told


@contextmanager
def altering(file):
    """Change a copy as somebody with any tool may; leave one file."""
    found = connect(file)
    yield found.conn
    found.conn.execute("PRAGMA journal_mode = DELETE")
    found.conn.close()


def starts(site):
    app = create_app(load(site.home))
    app.config["TESTING"] = True
    return app


def test_what_a_tablet_holds_comes_back_once_after_a_restore(
    record, tablet, db, site, yesterday, run, stopped
):
    for name in ("BRENNHAVN", "STRANDLUND", LATER):
        tablet.sets(record, NAME, name)
        tablet.syncs()
    lost = rows(site.database)[3:]
    assert len(lost) == 3
    stopped()
    done = run("restore", yesterday, "--yes")
    assert done.exit_code == 0, done.output
    assert f"From {tablet.name} since: 3." in done.output
    assert len(rows(site.database)) == 3
    tablet.transport = InProcess(starts(site))
    first = tablet.exchanges()
    assert (first["went_back"], first["head"]["position"]) == (True, 3)
    tablet.syncs()
    tablet.syncs()
    assert rows(site.database)[3:] == lost
    assert tablet.shows(record, NAME) == [LATER]


def test_a_restored_server_takes_what_tablets_send_over_the_wire(
    app, db, site, stopped, run, tmp_path, live
):
    cast = Cast(app, db, OverHttp(live.url))
    one, other = cast.tablet(), cast.tablet()
    shared = one.opens()
    other.opens(shared)
    one.sets(shared, NAME, "ALDERMERE")
    one.syncs()
    assert run("backup", tmp_path / "one.db").exit_code == 0
    for tablet in (one, other, one):
        tablet.sets(shared, NAME, f"{tablet.name} says", seen=[])
        tablet.syncs()
    refused = run("restore", tmp_path / "one.db", "--yes")
    assert (refused.exit_code, "has" in refused.output) == (1, True)
    assert len(rows(site.database)) == 4
    whole = {entry_id for entry_id, _ in rows(site.database)}
    live.stop()
    stopped()
    done = run("restore", tmp_path / "one.db", "--yes")
    assert done.exit_code == 0, done.output
    assert len(rows(site.database)) == 1
    live.start()
    for tablet in (other, one, other):
        tablet.exchanges()
        tablet.syncs()
    assert {entry_id for entry_id, _ in rows(site.database)} == whole
    assert len(rows(site.database)) == 4


def test_the_former_database_is_set_aside_whole(
    record, tablet, site, yesterday, run, stopped
):
    tablet.sets(record, NAME, LATER)
    tablet.syncs()
    former = rows(site.database)
    stopped()
    done = run("restore", yesterday, "--yes")
    (aside,) = site.home.glob("wiremark.db.aside-*")
    assert str(aside) in done.output
    assert rows(aside) == former
    assert run("restore", yesterday, "--yes").exit_code == 0
    assert len(list(site.home.glob("wiremark.db.aside-*"))) == 2


def test_what_only_the_desk_wrote_is_named_before_it_is_set_aside(
    record, db, site, yesterday, run, stopped
):
    writer = desk.Writer("x", "Test-Ines ALDERMERE", "operator", "Europe/Oslo")
    desk.write(db, record, writer, "addenda", "add", {"text": "Later film seen."})
    stopped()
    asked = run("restore", yesterday, keys="n\n")
    assert asked.exit_code == 1
    assert "on no tablet; these must be done again: 1" in asked.output
    assert "addenda: Test-Ines ALDERMERE, 20" in asked.output
    assert len(rows(site.database)) == 4
    assert list(site.home.glob("*.aside-*")) == []


def test_a_desk_place_that_a_tablet_knows_is_not_used_again_after_a_restore(
    record, tablet, db, site, yesterday, run, stopped
):
    """Known from the database that is set aside, before any tablet tells it."""
    writer = desk.Writer("x", "Test-Ines ALDERMERE", "operator", "Europe/Oslo")
    desk.write(db, record, writer, "addenda", "add", {"text": "Later film seen."})
    tablet.syncs()
    desk.write(db, record, writer, "addenda", "add", {"text": "Nobody read this."})
    stopped()
    assert run("restore", yesterday, "--yes").exit_code == 0
    again = connect(site.database)
    (known,) = lost.missing(again)
    assert (known.log, known.seq, known.tablet) == ("desk", 1, tablet.name)
    told = desk.write(again, record, writer, "addenda", "add", {"text": "Once more."})
    assert log.entry_by_id(again, told).header.seq == 2
    again.conn.close()


def test_an_erasure_that_a_restore_undoes_is_named(
    record, tablet, db, yesterday, run, stopped
):
    writer = desk.Writer("x", "Test-Ines ALDERMERE", "operator", "Europe/Oslo")
    erase(db, tablet.own[0].header.id, writer, "Another patient's name.")
    stopped()
    asked = run("restore", yesterday, keys="n\n")
    assert "readable again after this; erase again: 1" in asked.output


def test_nothing_is_restored_while_a_server_works_in_the_home(
    record, site, yesterday, run
):
    with holding(site.home), holding(site.home):
        refused = run("restore", yesterday, "--yes")
    assert refused.exit_code == 1
    assert "A server works in" in refused.output
    assert list(site.home.glob("*.aside-*")) == []


def test_nothing_is_restored_while_anything_has_the_database_open(
    record, site, yesterday, run, tablet
):
    refused = run("restore", yesterday, "--yes")
    assert refused.exit_code == 1
    assert "Something has" in refused.output
    tablet.sets(record, NAME, LATER)
    assert tablet.syncs()["head"]["position"] == 4


def test_no_server_starts_while_a_restore_is_under_way(site):
    with (
        alone(site.home),
        pytest.raises(Held, match="under way"),
        holding(site.home),
    ):
        pass
    with holding(site.home):
        pass


@pytest.mark.parametrize("renames", [0, 1])
def test_a_restore_that_was_killed_is_known_and_done_again(
    record, site, yesterday, run, stopped, renames
):
    former = rows(site.database)
    stopped()
    killed = subprocess.run(
        [sys.executable, "-c", BROKEN_OFF, str(yesterday), str(renames)],
        env={**os.environ, "WIREMARK_HOME": str(site.home)},
        check=False,
        capture_output=True,
    )
    assert killed.returncode == -signal.SIGKILL, killed.stderr
    with pytest.raises(Held, match="broke off half-way"), holding(site.home):
        pass
    there = [*site.home.glob("wiremark.db.aside-*"), site.database]
    assert [rows(file) for file in there if file.exists()] == [former]
    assert run("restore", yesterday, "--yes").exit_code == 0
    assert rows(site.database) == former
    with holding(site.home):
        pass


@pytest.mark.parametrize("harm", ["cut", "byte", "stamp", "empty", "other", "none"])
def test_a_file_that_is_no_whole_backup_is_refused_by_name(
    record, site, yesterday, run, stopped, harm, tmp_path
):
    stopped()
    whole = yesterday.read_bytes()
    harmed = {
        "cut": whole[:-5000],
        "byte": whole[:9000] + bytes([whole[9000] ^ 1]) + whole[9001:],
        "stamp": whole[:-300] + bytes([whole[-300] ^ 1]) + whole[-299:],
        "empty": b"",
        "other": b"a letter" * 300,
    }
    file = tmp_path / "harmed.db"
    if harm != "none":
        file.write_bytes(harmed[harm])
    kept = site.database.read_bytes()
    done = run("restore", file, "--yes")
    assert done.exit_code == 1
    assert str(file) in done.output
    assert site.database.read_bytes() == kept


def test_a_backup_made_to_look_whole_is_refused_where_its_log_breaks(
    record, site, yesterday, run, stopped, tmp_path
):
    stopped()
    forged = tmp_path / "forged.db"
    forged.write_bytes(yesterday.read_bytes()[:-512])
    with altering(forged) as db:
        head = db.execute("SELECT max(position), chain FROM entry").fetchone()
        db.execute("DROP TRIGGER body_never_changes")
        db.execute("UPDATE body SET bytes = ? WHERE position = 2", (b"{}",))
    put_stamp(forged, Stamp("2031-11-24T10:41:00.000Z", 3, *head))
    done = run("restore", forged, "--yes")
    assert done.exit_code == 1
    assert "its log breaks" in done.output
    put_stamp(forged, Stamp("2031-11-24T10:41:00.000Z", 4, *head))
    assert run("restore", forged, "--yes").exit_code == 1


def test_a_backup_of_a_newer_version_is_refused(
    record, site, yesterday, run, stopped, tmp_path
):
    stopped()
    newer = tmp_path / "newer.db"
    newer.write_bytes(yesterday.read_bytes()[:-512])
    with altering(newer) as db:
        head = db.execute("SELECT max(position), chain FROM entry").fetchone()
        db.execute(
            "INSERT INTO _sqlite_migrations"
            " VALUES (99, 'wiremark', 'm0999_later', '2031-11-24')"
        )
    put_stamp(newer, Stamp("2031-11-24T10:41:00.000Z", 3, *head))
    done = run("restore", newer, "--yes")
    assert done.exit_code == 1
    assert "a newer version" in done.output
    assert "m0999_later" in done.output


def test_a_database_that_cannot_be_read_is_set_aside_as_it_is(
    record, site, yesterday, run, stopped
):
    stopped()
    for end in ("-wal", "-shm"):
        (site.home / f"wiremark.db{end}").unlink(missing_ok=True)
    damage = b"not a database at all" * 500
    site.database.write_bytes(damage)
    done = run("restore", yesterday, "--yes")
    assert done.exit_code == 0, done.output
    assert "cannot be named" in done.output
    (aside,) = site.home.glob("wiremark.db.aside-*")
    assert aside.read_bytes() == damage
    assert len(rows(site.database)) == 3


def test_sessions_grants_and_codes_end_with_a_restore(
    record, cast, site, db, tablet, run, stopped, tmp_path
):
    """The backup knows an older password and a code that was used since."""
    cast.recorder.signs_in()
    cast.signer.signs_in()
    assert tablet.signs_in("test-mira", PASSWORD).status == 200
    _, code = tablets.add(db, "tablet in the drawer")
    back_up(site, tmp_path / "one.db")
    accounts.change_password(db, cast.signer.person.id, "another kelp and copper")
    stopped()
    assert run("restore", tmp_path / "one.db", "--yes").exit_code == 0
    app = starts(site)
    cast.signer.client.application = app
    assert cast.signer.opens("/records").status_code == 302
    assert "/sign-in" in cast.signer.opens("/records").location
    late = app.test_client().post("/tablet/enrol", json={"code": code})
    assert late.status_code == 401
    found = connect(site.database)
    assert found["person_grant"].count == 0
    (noted,) = found["access_log"].rows_where("what = 'database:restore'")
    assert noted["detail"] == last_backup(site.home).made_at
    found.conn.close()


def test_a_tablet_enrolled_since_the_backup_keeps_what_it_holds(
    record, db, cast, site, yesterday, run, stopped
):
    late = cast.tablet("tablet of today")
    opened = late.opens()
    late.sets(opened, NAME, LATER)
    late.syncs()
    stopped()
    assert run("restore", yesterday, "--yes").exit_code == 0
    app = starts(site)
    late.transport = InProcess(app)
    assert late.posts(late.request()).status == 401
    again = connect(site.database)
    _, code = tablets.add(again, late.name)
    told = app.test_client().post("/tablet/enrol", json={"code": code}).get_json()
    late.token, late.held = told["token"], 0
    late.syncs()
    assert [entry.header.id for entry in log.entries_of(again, opened)] == [
        entry.header.id for entry in late.own
    ]
    again.conn.close()


def test_a_restore_brings_the_keys_and_says_which_are_missing(
    record, site, yesterday, run, stopped, tmp_path, monkeypatch
):
    assert run("backup-keys", tmp_path / "keys").exit_code == 0
    (key,) = (site.home / "keys").glob("*.pem")
    stopped()
    shutil.rmtree(site.home / "keys")
    without = run("restore", yesterday, "--yes")
    assert without.exit_code == 0, without.output
    assert f"The server key {key.stem} is not beside the database" in without.output
    elsewhere = tmp_path / "elsewhere"
    monkeypatch.setenv("WIREMARK_HOME", str(elsewhere))
    whole = run("restore", yesterday, "--keys", tmp_path / "keys", "--yes")
    assert whole.exit_code == 0, whole.output
    assert "is not beside the database" not in whole.output
    assert [f.name for f in (elsewhere / "keys").iterdir()] == [key.name]
    assert load(elsewhere).hospital == "Example Harbour Hospital"
    server = LiveServer(elsewhere)
    server.start()
    server.stop()


def test_a_home_served_by_the_command_is_held(record, site, run, stopped, yesterday):
    stopped()
    serves = "from webapp.cli import main; main()"
    server = subprocess.Popen(
        [sys.executable, "-c", serves, "serve", "--port", "0"],
        env={**os.environ, "WIREMARK_HOME": str(site.home)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    try:
        assert "Serving on 127.0.0.1" in server.stdout.readline()
        refused = run("restore", yesterday, "--yes")
        assert refused.exit_code == 1
        assert "A server works in" in refused.output
    finally:
        server.kill()
        server.wait()
        server.stdout.close()
    assert run("restore", yesterday, "--yes").exit_code == 0


def test_a_backup_of_an_older_release_is_proven_and_carried_over(
    tmp_path, run, monkeypatch
):
    """The database of an earlier release: fixtures/sources.md, "Frozen files"."""
    older, keys = tmp_path / "older.db", tmp_path / "keys"
    shutil.copy(FROZEN / "schema-2.db", older)
    keys.mkdir()
    key = json.loads((FROZEN / "schema-2.json").read_text("utf-8"))["server_key"]
    shutil.copy(FROZEN / "test-server-key.pem", keys / f"{key}.pem")
    with altering(older) as db:
        (entries,) = db.execute("SELECT count(*) FROM entry").fetchone()
        head = log.head(Database(db))
    put_stamp(older, Stamp("2026-11-24T10:41:00.000Z", entries, *astuple(head)))
    monkeypatch.setenv("WIREMARK_HOME", str(tmp_path / "elsewhere"))
    done = run("restore", older, "--keys", keys, "--yes")
    assert done.exit_code == 0, done.output
    moved = connect(tmp_path / "elsewhere" / "wiremark.db")
    assert log.head(moved) == head
    assert "later_body" in moved.table_names()
    moved.conn.close()
    assert sorted(os.listdir(tmp_path)) == ["elsewhere", "home", "keys", "older.db"]
    checked = run("verify")
    assert checked.exit_code == 0, checked.output
