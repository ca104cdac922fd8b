"""What tablets of an earlier release sent is taken whole, for ever: fixtures/frozen/.

The bytes are those two tablets in real browsers sent; the fold beside them is what the
server of that day made of them. How they were made: fixtures/sources.md.
"""

from __future__ import annotations

import base64
import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.support.cast import Cast
from tests.support.node import call
from webapp.app import create_app
from webapp.app_db import close_held
from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import NEVER_FROM_A_TABLET
from webapp.db import connect, migrate
from webapp.record.entry import decode_body, decode_header
from webapp.record.framing import read_push
from webapp.record.log import entries_of
from webapp.record.open_record import open_record
from webapp.settings import DATABASE_FILE, load

FROZEN = Path(__file__).resolve().parents[2] / "fixtures" / "frozen"
TOLD: dict[str, Any] = json.loads((FROZEN / "requests-1.json").read_text("utf-8"))
SENT = [(r["tablet"], base64.b64decode(r["bytes"])) for r in TOLD["requests"]]


class FreshServer:
    """A new server that was given the frozen key, and the tablets that sent."""

    def __init__(self, home: Path) -> None:
        keys = home / "keys"
        keys.mkdir(mode=0o700, parents=True)
        name = f"{TOLD['server_key']}.pem"
        shutil.copy(FROZEN / "test-server-key.pem", keys / name)
        (home / "wiremark.toml").write_text(TOLD["site"], encoding="utf-8")
        app = create_app(load(home))
        self.db = connect(home / DATABASE_FILE)
        migrate(self.db)
        cast = Cast(app, self.db)
        names = dict.fromkeys(name for name, _ in SENT)
        self.tablets = {name: cast.tablet(name) for name in names}

    def takes(self, tablet: str, body: bytes) -> list[tuple[str, str]]:
        """Take a request; return what was answered and ruled, for each entry."""
        reply = self.tablets[tablet].posts(body)
        assert reply.status == 200, reply
        return [(a["answer"], a["counts"]) for a in reply.json["answers"]]

    def folds(self) -> dict[str, Any]:
        """Return what each record says now."""
        return {r: open_record(self.db, r).case.fold for r in TOLD["fold"]}


@pytest.fixture
def fresh(tmp_path) -> Iterator[FreshServer]:
    server = FreshServer(tmp_path / "home")
    yield server
    server.db.conn.close()
    close_held()


def template_of(path: str) -> str:
    """Return a path with "*" for its wire or its remark."""
    return re.sub(r"(?<=^wires/)[^/]+|(?<=^remarks\.).+", "*", path)


def told_of(folds: dict[str, Any]) -> dict[str, Any]:
    """Return of folds the parts that were written down."""
    return {
        record: {part: folds[record][part] for part in TOLD["fold"][record]}
        for record in TOLD["fold"]
    }


def test_every_entry_is_kept_and_counted_and_folds_to_what_it_said(fresh):
    for tablet, body in SENT:
        expected = [("kept", "counted")] * len(read_push(body).items)
        assert fresh.takes(tablet, body) == expected
    assert told_of(fresh.folds()) == TOLD["fold"]


def test_in_another_order_and_twice_they_say_the_same(fresh):
    for tablet, body in [*reversed(SENT), *SENT]:
        assert {counts for _, counts in fresh.takes(tablet, body)} == {"counted"}
    assert told_of(fresh.folds()) == TOLD["fold"]


def test_the_tablet_folds_them_to_what_they_said(fresh):
    for tablet, body in SENT:
        fresh.takes(tablet, body)
    streams = [
        [
            {
                "id": e.header.id,
                "log": e.header.log,
                "seq": e.header.seq,
                "body": decode_body(e.body),
            }
            for e in entries_of(fresh.db, record)
        ]
        for record in TOLD["fold"]
    ]
    folded = call("log/fold.js", "fold", [[stream] for stream in streams])
    assert told_of(dict(zip(TOLD["fold"], folded, strict=True))) == TOLD["fold"]


def test_they_hold_every_path_kind_and_op_of_their_day(fresh):
    for tablet, body in SENT:
        fresh.takes(tablet, body)
    logged = [e for record in TOLD["fold"] for e in entries_of(fresh.db, record)]
    headers = [decode_header(i.header) for _, b in SENT for i in read_push(b).items]
    bodies = [decode_body(e.body) for e in logged]
    assert {header.v for header in headers} == {1}
    assert {body["op"] for body in bodies} == {"set", "add", "strike"}
    assert {body["source"] for body in bodies} == {"seen", "told", "device", "copied"}
    told = {template_of(body["path"]) for body in bodies}
    every = {
        path: field
        for path, field in CATALOGUE.paths()
        if path not in NEVER_FROM_A_TABLET and field.since == 1
    }
    assert told >= set(every)
    kinds = {f.kind for f in every.values()}
    assert len(kinds | {c.kind for f in every.values() for c in f.children}) == 12
    photos = {e.header.record for e in logged if b'"sealed":"' in (e.body or b"")}
    assert len(set(TOLD["fold"]) - photos) == 1
