"""`wiremark demo`: a fictitious hospital, filled through the same path as real use."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

import click
from flask import Flask
from flask.testing import FlaskClient

from webapp import serving
from webapp.app import create_app
from webapp.db import connect
from webapp.keep.held import Held, holding
from webapp.paths import demo_folder
from webapp.people import accounts
from webapp.people import tablets as tablet_list
from webapp.people.accounts import NewPerson
from webapp.record.framing import encode_push
from webapp.record.streams import Stream, read_stream
from webapp.record.writer import Writer
from webapp.say import say
from webapp.settings import load

PASSWORD = "harbour-demo-2031"  # noqa: S105 - printed for everybody, serves one machine
SITE = """hospital = "Example Harbour Hospital"
facility = "EXHB"
zone = "America/Chicago"

[cpt_enabled]
by = "R. Wend-Example"
role = "administrator"
on = "2026-01-02"
licence_reference = "demonstration only"
"""
# One person a role; the check digits of the NPIs are right, the persons are not real.
CAST = (
    NewPerson("tarn", "E. Tarn-Example", ("operator",), PASSWORD, "MD", "1234567893"),
    NewPerson("fell", "O. Fell-Example", ("supervisor",), PASSWORD, "MD", "1000000004"),
    NewPerson("ouse", "K. Ouse-Example", ("nurse",), PASSWORD, "RN"),
    NewPerson("beck", "J. Beck-Example", ("assistant",), PASSWORD),
    NewPerson("rill", "M. Rill-Example", ("coder",), PASSWORD, "CCS"),
    NewPerson("wend", "R. Wend-Example", ("administrator",), PASSWORD),
)
BATCH = 200


@dataclass(frozen=True, slots=True)
class Ready:
    """A demo that can be served: the application and a code for one more tablet."""

    app: Flask
    code: str


@click.command("demo")
@click.option("--home", type=click.Path(path_type=Path), default=None)
@click.option("--host", default="127.0.0.1", help="address to listen on")
@click.option("--port", default=8321, type=int, help="port to listen on")
def demo(home: Path | None, host: str, port: int) -> None:
    """Make the fictitious hospital, fill it, and serve it on this machine."""
    folder = (home or Path("instance") / "demo").absolute()
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    try:
        with holding(folder):
            ready = prepare(folder)
            for line in welcome(f"http://{host}:{port}", ready.code, folder):
                click.echo(line)
            serving.serve(ready.app, host=host, port=port)
    except Held as error:
        raise click.ClickException(str(error)) from error


def prepare(home: Path) -> Ready:
    """Make or reopen the demo in `home`; fills it only when it is new."""
    home.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not (home / "wiremark.toml").exists():
        (home / "wiremark.toml").write_text(SITE, encoding="utf-8")
    app = create_app(load(home))
    db = connect(load(home).database)
    if not accounts.people(db):
        for person in CAST:
            accounts.add(db, person)
        for stream in streams():
            send(app, _tablet(app, stream.tablet), stream)
    _, code = tablet_list.add(db, f"Tablet {len(tablet_list.tablets(db)) + 1}")
    db.conn.close()
    return Ready(app, code)


def streams() -> list[Stream]:
    """Return the demo's cases in the order of their file names."""
    return [read_stream(file) for file in sorted(demo_folder().glob("*.json"))]


def welcome(address: str, code: str, home: Path) -> list[str]:
    """Return what is printed: where to go, and how to get in."""
    people = [f"  {p.login:6} {p.roles[0]:14} {p.name}" for p in CAST]
    return [
        say("demo.desk", address=address, password=PASSWORD),
        *people,
        say("demo.tablet", address=address, code=code),
        say("demo.other", home=home),
        say("demo.stop", home=home),
    ]


@dataclass(frozen=True, slots=True)
class _Enrolled:
    client: FlaskClient
    token: str
    writer: Writer


def _tablet(app: Flask, name: str) -> _Enrolled:
    """Enrol a tablet as a person would: by a one-time code."""
    import base64

    from webapp.app_db import get_db

    with app.app_context():
        known = [t.tablet.name for t in tablet_list.tablets(get_db())]
        number = sum(n.startswith(name) for n in known)
        _, code = tablet_list.add(get_db(), f"{name}, demo {number + 1}")
    client = app.test_client()
    told = client.post("/tablet/enrol", json={"code": code}).get_json()
    key = told["server_key"]
    writer = Writer(key["id"], base64.b64decode(key["spki"]))
    return _Enrolled(client, told["token"], writer)


def send(app: Flask, tablet: _Enrolled, stream: Stream) -> None:
    """Seal a case and send it through /sync, some entries at a time."""
    entries = [tablet.writer.write(stream.record, draft) for draft in stream.drafts]
    for start in range(0, len(entries), BATCH):
        batch = entries[start : start + BATCH]
        tips = [{"log": tablet.writer.log, "seq": tablet.writer.tip}]
        head = {
            "v": 1,
            "catalogue": 1,
            "now": stream.drafts[-1].at["utc"],
            "logs": [{"log": tablet.writer.log, "tip": tablet.writer.tip}],
            "wraps": [w.as_json() for w in tablet.writer.wraps_of(batch)],
            "entries": [e.as_json() for e in batch],
            "open": [{"record": stream.record, "since": 0, "tips": tips}],
            "head": None,
            "pull_all": False,
        }
        answer = tablet.client.post(
            "/sync",
            data=encode_push(head, [e.sealed for e in batch]),
            headers={"Authorization": f"Bearer {tablet.token}"},
            content_type="application/wiremark-sync",
        )
        _all_kept(answer.get_json(), stream)


def _all_kept(told: dict[str, object], stream: Stream) -> None:
    answers = told.get("answers")
    kept = isinstance(answers, list) and all(
        a["answer"] in ("kept", "had") and a["counts"] == "counted" for a in answers
    )
    if not kept:
        raise RuntimeError(f"demo case {stream.name}: {json.dumps(told)[:2000]}")
