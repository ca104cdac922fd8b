"""`wiremark backup`: whole and proven under its name, or not there at all."""

import hashlib
import os
import resource
import signal
import sqlite3
import stat
import subprocess
import sys
import threading

import pytest

from tests.support.replies import NAME
from webapp.db import connect
from webapp.keep.backup import CannotBackUp, back_up
from webapp.keep.copies import copied_upto, last_backup
from webapp.keep.stamp import NotWhole, read_stamp
from webapp.record import log

RUN = "from webapp.cli import main; main()"
KILLED = """
import os, signal, sys
from pathlib import Path
from webapp.keep import backup
from webapp.settings import load

def dies(*_):
    os.kill(os.getpid(), signal.SIGKILL)

moment = sys.argv[2]
if moment == "copying":
    backup.STEP_PAGES = 1
    backup.back_up(load(), Path(sys.argv[1]), may_replace=True, on_step=dies)
setattr(backup, moment, dies)
backup.back_up(load(), Path(sys.argv[1]), may_replace=True)
"""


def ids(database):
    with sqlite3.connect(f"file:{database}?mode=ro", uri=True) as found:
        rows = found.execute("SELECT id FROM entry ORDER BY position").fetchall()
    found.close()
    return [row[0] for row in rows]


def test_a_backup_holds_every_entry_and_says_where_the_log_ends(
    run, record, site, db, tmp_path
):
    done = run("backup", tmp_path / "one.db")
    assert done.exit_code == 0, done.output
    head = log.head(db)
    assert f"position {head.position}, chain {head.chain}" in done.output
    assert "Entries 3, records 1, signed notes 0, photos 0" in done.output
    whole = (tmp_path / "one.db").read_bytes()
    assert hashlib.sha256(whole).hexdigest() in done.output
    assert ids(tmp_path / "one.db") == ids(site.database)
    assert sorted(os.listdir(tmp_path)) == ["home", "one.db"]


def test_the_command_that_verifies_finds_a_backup_whole(run, record, tmp_path):
    assert run("backup", tmp_path / "one.db").exit_code == 0
    whole = (tmp_path / "one.db").read_bytes()
    done = run("verify", "--file", tmp_path / "one.db")
    assert done.exit_code == 0, done.output
    assert (tmp_path / "one.db").read_bytes() == whole
    assert sorted(os.listdir(tmp_path)) == ["home", "one.db"]


def test_only_its_owner_reads_a_backup(run, record, tmp_path):
    (tmp_path / "one.db.part").write_bytes(b"left by a kill, and readable by all")
    os.chmod(tmp_path / "one.db.part", 0o644)
    assert run("backup", tmp_path / "one.db").exit_code == 0
    assert stat.S_IMODE((tmp_path / "one.db").stat().st_mode) == 0o600


def test_keys_and_settings_are_not_in_the_backup(run, record, site, tmp_path):
    done = run("backup", tmp_path / "one.db")
    assert "not in it" in done.output
    whole = (tmp_path / "one.db").read_bytes()
    (key,) = (site.home / "keys").glob("*.pem")
    assert key.read_bytes().splitlines()[1] not in whole
    assert (site.home / "secret.key").read_bytes() not in whole


def test_what_is_written_meanwhile_neither_waits_nor_begins_the_copy_again(
    record, site, tablet, db, tmp_path
):
    seen = ids(site.database)
    steps = []

    def writes(*_):
        tablet.sets(record, NAME, f"ALDERMERE {len(steps)}")
        tablet.syncs()
        steps.append(log.head(db).position)

    made = back_up_by_page(site, tmp_path / "one.db", writes)
    assert len(steps) > 20
    assert steps == list(range(4, 4 + len(steps)))
    assert made.stamp.entries == 3
    assert ids(tmp_path / "one.db") == seen


def test_a_backup_made_while_a_thread_writes_verifies_and_is_restored_elsewhere(
    record, site, app, tablet, run, tmp_path, monkeypatch
):
    stop, between = threading.Event(), threading.Event()

    def keeps_writing():
        while not stop.is_set():
            tablet.sets(record, NAME, "ALDERMERE")
            tablet.syncs()
            between.set()

    writer = threading.Thread(target=keeps_writing)
    writer.start()

    def waits(*_):
        between.clear()
        assert between.wait(60)

    try:
        before = ids(site.database)
        made = back_up_by_page(site, tmp_path / "one.db", waits, pages=40)
        after = ids(site.database)
    finally:
        stop.set()
        writer.join()
    copied = ids(tmp_path / "one.db")
    assert len(after) > len(copied)
    assert copied[: len(before)] == before
    assert copied == after[: len(copied)]
    monkeypatch.setenv("WIREMARK_HOME", str(tmp_path / "elsewhere"))
    restored = run("restore", tmp_path / "one.db", "--yes")
    assert restored.exit_code == 0, restored.output
    assert ids(tmp_path / "elsewhere" / "wiremark.db") == copied
    assert f"position {made.stamp.position}" in restored.output


def back_up_by_page(site, file, on_step, pages=1):
    from webapp.keep import backup

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(backup, "STEP_PAGES", pages)
        return back_up(site, file, on_step=on_step)


@pytest.mark.parametrize("moment", ["copying", "put_stamp", "prove", "note_backup"])
@pytest.mark.parametrize("former", [b"", b"the backup of yesterday"])
def test_a_kill_leaves_no_half_backup_under_the_name(
    record, site, tmp_path, moment, former
):
    file = tmp_path / "one.db"
    if former:
        file.write_bytes(former)
    killed = subprocess.run(
        [sys.executable, "-c", KILLED, str(file), moment],
        env={**os.environ, "WIREMARK_HOME": str(site.home)},
        check=False,
        capture_output=True,
    )
    assert killed.returncode == -signal.SIGKILL, killed.stderr
    if moment == "note_backup":
        assert read_stamp(file).entries == 3
    else:
        assert (file.read_bytes() if file.exists() else b"") == former
    assert last_backup(site.home) is None
    assert back_up(site, file, may_replace=True).stamp.entries == 3
    assert sorted(os.listdir(tmp_path)) == ["home", "one.db"]


def test_a_disk_that_takes_no_more_is_told_and_leaves_nothing(record, site, tmp_path):
    def small_files():
        resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, 40_000))

    done = subprocess.run(
        [sys.executable, "-c", RUN, "backup", str(tmp_path / "one.db")],
        env={**os.environ, "WIREMARK_HOME": str(site.home)},
        preexec_fn=small_files,
        check=False,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert "one.db could not be written" in done.stderr
    assert "Traceback" not in done.stderr
    assert sorted(os.listdir(tmp_path)) == ["home"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("nowhere/one.db",), "There is no folder"),
        (("home",), "is no place for a backup"),
        (("home/wiremark.db", "--force"), "is no place for a backup"),
        (("home/wiremark.toml",), "is there already"),
        (("home/wiremark.toml/one.db",), "There is no folder"),
        (("/proc/one.db",), "could not be written"),
    ],
    ids=["no folder", "a folder", "the database", "there", "a file", "not writable"],
)
def test_a_target_that_does_not_do_is_told_in_a_word(
    record, run, site, tmp_path, words, told
):
    kept = site.database.read_bytes()
    done = run("backup", tmp_path / words[0], *words[1:])
    assert done.exit_code == 1
    assert told in done.output
    assert site.database.read_bytes() == kept


def test_a_backup_is_replaced_only_when_told(record, run, tmp_path):
    (tmp_path / "one.db").write_bytes(b"of yesterday")
    refused = run("backup", tmp_path / "one.db")
    assert (refused.exit_code, "--force" in refused.output) == (1, True)
    assert (tmp_path / "one.db").read_bytes() == b"of yesterday"
    assert run("backup", tmp_path / "one.db", "--force").exit_code == 0
    assert read_stamp(tmp_path / "one.db").entries == 3


def test_two_backups_to_one_name_do_not_mix(record, site, tmp_path):
    refused = []

    def second(*_):
        with pytest.raises(CannotBackUp) as told:
            back_up(site, tmp_path / "one.db")
        refused.append(str(told.value))

    back_up(site, tmp_path / "one.db", on_step=second)
    assert "at this moment" in refused[0]
    assert read_stamp(tmp_path / "one.db").entries == 3


def test_a_home_without_a_database_is_told_and_none_is_made(run, monkeypatch, tmp_path):
    monkeypatch.setenv("WIREMARK_HOME", str(tmp_path / "empty"))
    done = run("backup", tmp_path / "one.db")
    assert (done.exit_code, "no database" in done.output) == (1, True)
    assert sorted(os.listdir(tmp_path / "empty")) == []


def test_a_damaged_database_is_not_called_backed_up(record, site, run, db, tmp_path):
    db.conn.execute("DROP TRIGGER body_never_changes")
    db.conn.execute("UPDATE body SET bytes = ? WHERE position = 2", (b"{}",))
    done = run("backup", tmp_path / "one.db")
    assert done.exit_code == 1
    assert "breaks" in done.output
    assert sorted(os.listdir(tmp_path)) == ["home"]
    assert last_backup(site.home) is None


def test_every_byte_of_a_backup_is_under_its_digest(record, site, tmp_path):
    file = tmp_path / "one.db"
    back_up(site, file)
    whole = file.read_bytes()
    # A prime step meets every page at another place; the stamp is read byte by byte.
    places = [*range(0, len(whole) - 512, 997), *range(len(whole) - 512, len(whole))]
    for place in places:
        changed = bytearray(whole)
        changed[place] ^= 1
        file.write_bytes(changed)
        with pytest.raises(NotWhole):
            read_stamp(file)
    for length in (0, 1, 511, 512, 513, len(whole) // 2, len(whole) - 1):
        file.write_bytes(whole[:length])
        with pytest.raises(NotWhole):
            read_stamp(file)


def test_copied_means_off_the_disk_of_the_database(record, site, db, tmp_path):
    back_up(site, tmp_path / "here.db")
    assert last_backup(site.home).position == 3
    assert copied_upto(site.home, db) == 0
    back_up(site, tmp_path / "away.db", is_carried_off=True)
    assert copied_upto(site.home, db) == 3
    back_up(site, tmp_path / "again.db")
    assert copied_upto(site.home, db) == 3


def test_a_backup_of_another_log_covers_nothing_here(record, site, db, tmp_path):
    back_up(site, tmp_path / "away.db", is_carried_off=True)
    note = (site.home / "backup.json").read_text()
    other = note.replace(log.head(db).chain, "0" * 64)
    (site.home / "backup.json").write_text(other)
    assert copied_upto(site.home, db) == 0
    for broken in ("", "[]", '{"elsewhere": {"position": 3}}', '{"elsewhere": 1}'):
        (site.home / "backup.json").write_text(broken)
        assert copied_upto(site.home, db) == 0
        assert last_backup(site.home) is None


def test_any_tool_reads_a_backup_as_a_database(record, site, tmp_path):
    back_up(site, tmp_path / "one.db")
    plain = connect(tmp_path / "one.db")
    assert plain.conn.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    assert plain["entry"].count == 3
    plain.conn.close()
