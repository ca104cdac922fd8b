"""`wiremark demo`: make or reopen the fictitious hospital, and serve it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import click
from flask import Flask
from sqlite_utils import Database

from webapp import serving
from webapp.app import create_app
from webapp.db import connect
from webapp.demo.filling import fill
from webapp.demo.site import CAST, PASSWORD, SITE
from webapp.keep.held import Held, holding
from webapp.note import worker
from webapp.people import accounts, tablets
from webapp.people.passwords import hash_password
from webapp.say import say
from webapp.settings import load


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
            ready = prepare(folder, host)
            for line in welcome(f"http://{host}:{port}", ready.code, folder):
                click.echo(line)
            serving.serve(ready.app, host=host, port=port)
    except Held as error:
        raise click.ClickException(str(error)) from error


def prepare(home: Path, host: str = "127.0.0.1") -> Ready:
    """Make or reopen the demo in `home`, asked for at `host`; filled only when new."""
    home.mkdir(parents=True, exist_ok=True, mode=0o700)
    if not (home / "wiremark.toml").exists():
        (home / "wiremark.toml").write_text(SITE, encoding="utf-8")
    app = create_app(replace(load(home), host=host))
    db = connect(load(home).database)
    if not accounts.people(db):
        # One password for all, so hashed once: it is slow on purpose.
        hashed = cache(hash_password)
        for person in CAST:
            accounts.add(db, person, hashed)
        fill(app)
        # It made the signed notes; the next one starts it again.
        worker.stop()
    code = _code(db)
    db.conn.close()
    return Ready(app, code)


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


def _code(db: Database) -> str:
    """Return a code for a browser to become a tablet; one that waits is given anew."""
    known = [listed.tablet for listed in tablets.tablets(db)]
    waiting = [one for one in known if one.state == "waiting"]
    if waiting:
        return tablets.renew(db, waiting[0].id)
    number = sum(one.name.startswith(say("demo.browser", n="")) for one in known) + 1
    return tablets.add(db, say("demo.browser", n=number))[1]
