"""A start that breaks off leaves the old tables or the new ones, never between."""

import os
import shutil
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.support.failing import Failed, FailsAfter, watched
from webapp.db import connect, migrate
from webapp.paths import migrations_folder

FROZEN = Path(__file__).resolve().parents[2] / "fixtures" / "frozen" / "schema-2.db"
KILLED = """
import os, signal, sys
from tests.support.failing import watched
from webapp.db import connect, migrate

left = int(sys.argv[2])
def dies(_):
    global left
    left -= 1
    if left == 0:
        os.kill(os.getpid(), signal.SIGKILL)

def dies_at(sql):
    if not sql.lstrip().upper().startswith(("SELECT", "PRAGMA")):
        dies(sql)

with watched(dies_at):
    migrate(connect(sys.argv[1]))
"""


def schema(db):
    rows = db.conn.execute(
        "SELECT type, name, sql FROM sqlite_master"
        " WHERE name NOT LIKE 'sqlite_%' ORDER BY type, name"
    )
    return [tuple(row) for row in rows]


def contents(db):
    names = [n for n in db.table_names() if n not in ("_sqlite_migrations", "row_sum")]
    return {name: [tuple(row) for row in db[name].rows_where()] for name in names}


def steps():
    return sorted(file.stem for file in migrations_folder().glob("m[0-9]*.py"))


def whole_steps(start, tmp_path):
    """The schema and contents after each whole migration, by those applied."""
    found = {}
    with pytest.MonkeyPatch.context() as patch:
        for count in range(len(steps()) + 1):
            folder = tmp_path / f"first-{count}"
            folder.mkdir()
            for name in steps()[:count]:
                shutil.copy(migrations_folder() / f"{name}.py", folder)
            patch.setattr("webapp.db.migrations_folder", lambda at=folder: at)
            db = begun(start, tmp_path / f"whole-{count}.db")
            migrate(db)
            found[tuple(applied(db))] = (schema(db), contents(db))
            db.conn.close()
    return found


def begun(start, file):
    if start is not None:
        shutil.copy(start, file)
    return connect(file)


def applied(db):
    if "_sqlite_migrations" not in db.table_names():
        return []
    return [row["name"] for row in db["_sqlite_migrations"].rows]


def changes(sql):
    return not sql.lstrip().upper().startswith(("SELECT", "PRAGMA"))


def statements(start, tmp_path):
    tmp_path.mkdir(exist_ok=True)
    count = FailsAfter(0, changes)
    with watched(count):
        db = begun(start, tmp_path / "counted.db")
        migrate(db)
        db.conn.close()
    return count.seen


def is_between(db, whole):
    return (schema(db), contents(db)) != whole[tuple(applied(db))]


@pytest.mark.parametrize("start", [None, FROZEN], ids=["a new site", "an older one"])
def test_a_failure_after_any_statement_leaves_whole_steps_and_is_mended(
    start, tmp_path
):
    whole = whole_steps(start, tmp_path)
    final = whole[tuple(steps())]
    most = statements(start, tmp_path)
    if start is None:
        # The last steps are those that an older site takes: tried there.
        most -= statements(FROZEN, tmp_path / "older") - 1
    assert most > 30
    for number in range(1, most + 1):
        file = tmp_path / f"{number}.db"
        begun(start, file).conn.close()
        with watched(FailsAfter(number, changes)):
            failing = connect(file)
            with pytest.raises(Failed):
                migrate(failing)
            failing.conn.close()
        again = connect(file)
        assert not is_between(again, whole), number
        if number % 10 in (0, 1):
            # What is a whole step is moved on as any: tried at one in five.
            migrate(again)
            assert (schema(again), contents(again)) == final, number
        again.conn.close()
        file.unlink()


@pytest.mark.parametrize("start", [None, FROZEN], ids=["a new site", "an older one"])
def test_a_kill_in_the_middle_leaves_whole_steps_and_is_mended(start, tmp_path):
    whole = whole_steps(start, tmp_path)
    most = statements(start, tmp_path)
    for number in (most // 5, most // 2, most - 3):
        file = tmp_path / f"{number}.db"
        begun(start, file).conn.close()
        killed = subprocess.run(
            [sys.executable, "-c", KILLED, str(file), str(number)],
            env={**os.environ, "PYTHONPATH": str(Path.cwd())},
            check=False,
            capture_output=True,
        )
        assert killed.returncode == -signal.SIGKILL, killed.stderr
        again = connect(file)
        assert not is_between(again, whole), number
        migrate(again)
        assert (schema(again), contents(again)) == whole[tuple(steps())]
        assert migrate(again) == []
        again.conn.close()


def test_servers_that_start_at_once_take_each_step_once(tmp_path):
    file = tmp_path / "one.db"
    with ThreadPoolExecutor(4) as many:
        found = list(many.map(lambda _: migrate(connect(file)), range(4)))
    # Which of them takes which step is chance; each step is taken once.
    assert sorted(name for names in found for name in names) == steps()
    assert applied(connect(file)) == steps()


def test_a_migration_carries_its_own_name_and_no_script_that_commits():
    for file in migrations_folder().glob("m[0-9]*.py"):
        text = file.read_text(encoding="utf-8")
        assert f"def {file.stem}(" in text
        assert ".executescript(" not in text
        assert "transactional=False" not in text
