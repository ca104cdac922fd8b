"""One process beside the server makes the notes."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

import pytest

from tests.support.notes import note_of
from tests.support.records import Recording
from webapp.note import worker
from webapp.note.build import build_note


@pytest.fixture
def stopped():
    """A worker that is not running before and after the test."""
    worker.stop()
    yield
    worker.stop()


def process_ids() -> list[int]:
    return list(worker._running()._processes)


def test_the_worker_gives_the_bytes_that_the_server_itself_would(stopped) -> None:
    note = note_of(Recording().case)
    assert worker.render(note) == build_note(note)


def test_one_process_serves_every_note(stopped) -> None:
    note = note_of(Recording().case)
    worker.render(note)
    first = process_ids()
    worker.render(note)
    assert process_ids() == first
    assert len(first) == 1
    assert first != [os.getpid()]


def test_a_worker_that_was_killed_is_replaced(stopped) -> None:
    note = note_of(Recording().case)
    made = worker.render(note)
    (killed,) = process_ids()
    os.kill(killed, signal.SIGKILL)
    assert worker.render(note) == made
    assert process_ids() != [killed]


def test_a_note_that_cannot_be_made_raises_and_the_next_is_made(stopped) -> None:
    note = note_of(Recording().case)
    with pytest.raises(KeyError):
        worker.render(note_of(Recording().case, paper="Papyrus"))
    assert worker.render(note)


def test_stopping_ends_the_process(stopped) -> None:
    worker.render(note_of(Recording().case))
    (process,) = worker._running()._processes.values()
    worker.stop()
    assert not process.is_alive()


SERVER = """
import sys
from tests.support.notes import note_of
from tests.support.records import Recording
from webapp.note import worker

if __name__ == "__main__":
    worker.render(note_of(Recording().case))
    print(*worker._running()._processes, flush=True)
    sys.stdin.read()
"""


@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGKILL])
def test_the_worker_ends_with_a_server_that_was_killed(
    end: signal.Signals, tmp_path
) -> None:
    script = tmp_path / "server.py"
    script.write_text(SERVER)
    server = subprocess.Popen(
        [sys.executable, str(script)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])},
    )
    assert server.stdout is not None
    watched = os.pidfd_open(int(server.stdout.readline()))
    try:
        server.send_signal(end)
        server.wait()
        ended, _, _ = select.select([watched], [], [], 60)
        assert ended == [watched]
    finally:
        os.close(watched)
        server.communicate()


def test_stopping_twice_is_once(stopped) -> None:
    worker.stop()
    worker.stop()


def test_a_worker_that_dies_each_time_gives_up_loudly(stopped, monkeypatch) -> None:
    monkeypatch.setattr(worker, "build_note", os._exit)
    with pytest.raises(BrokenProcessPool):
        worker.render(1)
