"""The administrator's page about the server's log: head, copies, what is missing."""

import shutil

import pytest

from tests.support.replies import NAME
from tests.support.transport import InProcess
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.db import connect
from webapp.keep.backup import back_up
from webapp.record import desk, log
from webapp.settings import load

WRITER = desk.Writer("x", "Test-Ines ALDERMERE", "operator", "Europe/Oslo")


@pytest.fixture
def record(tablet):
    opened = tablet.opens()
    tablet.sets(opened, NAME, "ALDERMERE")
    tablet.syncs()
    return opened


@pytest.fixture
def administrator(cast):
    cast.administrator.signs_in()
    return cast.administrator


def test_the_page_says_where_the_log_ends(administrator, record, db):
    page = administrator.opens("/server").text
    assert log.head(db).chain in page
    assert "<dt>Position</dt><dd><b>1</b></dd>" in page
    assert "Every head that a tablet was told is in this log." in page
    assert "No entry is known to a tablet and missing here." in page
    assert 'href="/server"' in administrator.opens("/tablets").text


def test_the_page_is_the_administrators_alone(cast):
    for actor in (cast.signer, cast.coder, cast.recorder):
        actor.signs_in()
        assert actor.opens("/server").status_code == 403
        assert 'href="/server"' not in actor.opens("/").text


def test_the_last_backup_is_told_and_what_it_lacks(
    administrator, record, tablet, site, tmp_path
):
    assert "None yet." in administrator.opens("/server").text
    back_up(site, tmp_path / "here.db")
    page = administrator.opens("/server").text
    assert "up to position 1" in page
    assert "lies on the same disk" in page
    assert "Entries not yet copied off this machine: 1" in page
    back_up(site, tmp_path / "away.db", is_carried_off=True)
    assert (
        "Every entry is copied off this machine." in administrator.opens("/server").text
    )
    tablet.sets(record, NAME, "ALDERMERE-STRAND")
    tablet.syncs()
    page = administrator.opens("/server").text
    assert "Entries not yet copied off this machine: 1" in page


def test_a_server_that_went_back_names_who_saw_more_and_what_the_desk_lost(
    cast, record, tablet, db, site, tmp_path
):
    db.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    shutil.copy(site.database, tmp_path / "older.db")
    lost = desk.write(db, record, WRITER, NAME, "set", "ALDERMERE-STRAND")
    tablet.syncs()
    close_held()
    db.conn.close()
    for end in ("", "-wal", "-shm"):
        (site.home / f"wiremark.db{end}").unlink(missing_ok=True)
    shutil.copy(tmp_path / "older.db", site.database)
    app = create_app(load(site.home))
    app.config["TESTING"] = True
    tablet.transport = InProcess(app)
    assert tablet.exchanges()["went_back"]
    holds = [
        entry.header.decode()
        for entry in tablet.pulled[record].values()
        if entry.header.split(b"\n")[3] == b"desk"
    ]
    assert len(holds) == 1
    opened = [{"record": record, "since": 0, "tips": [], "holds": holds}]
    assert tablet.posts(tablet.request(open=opened)).json["lost"] == 1
    again = connect(site.database)
    from tests.support.cast import Cast

    administrator = Cast(app, again).administrator
    administrator.signs_in()
    page = administrator.opens("/server").text
    assert f"{tablet.name} saw position 2" in page
    assert "Written at the desk, and lost: 1" in page
    assert "desk, place 1" in page
    assert "ALDERMERE" in page
    signer = Cast(app, again).signer
    signer.signs_in()
    shown = signer.opens(f"/records/{record}").text
    assert "Known to tablets and missing here: 1" in shown
    assert "lost by this server" in shown
    again.conn.close()
    assert lost


def test_what_was_refused_without_a_record_is_shown_here(administrator, tablet, record):
    from tests.support.malformed import put_together, taken_apart

    tablet.sets(record, NAME, "ALDERMERE-STRAND")
    head, sealed = taken_apart(tablet.request())
    head["entries"][0]["header"] = "no header at all"
    reply = tablet.posts(put_together(head, sealed))
    assert reply.json["answers"][0]["answer"] == "refused"
    page = administrator.opens("/server").text
    assert "for no record that can be opened: 1" in page
    assert "Its header could not be read." in page
    assert "none that can be read" in page
