"""`wiremark verify`: walk a database and name the first break."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import click
from sqlite_utils import Database

from webapp.keep.proof import is_of_this_version
from webapp.record import log, lost
from webapp.record.keyring import Keyring
from webapp.record.verify import Break, breaks
from webapp.say import say
from webapp.settings import UnusableSettings, load


@click.command("verify")
@click.option("--all", "name_all", is_flag=True, help="name every break")
@click.option(
    "--file", type=click.Path(path_type=Path), default=None,
    help="a backup, in place of this site's database",
)  # fmt: skip
def verify(name_all: bool, file: Path | None) -> None:
    """Walk digests, places, chain, attestations and notes; name the first break."""
    try:
        site = load()
    except UnusableSettings as error:
        raise click.ClickException(str(error)) from error
    path = file or site.database
    if not path.exists():
        raise click.ClickException(say("verify.no_file", file=path))
    try:
        # Read-only: looking must not change what is looked at.
        with closing(_reading(path)) as connection:
            _walk(Database(connection), Keyring(site.home), path, name_all)
    except sqlite3.DatabaseError as error:
        told = say("verify.unreadable", file=path, because=error)
        raise click.ClickException(told) from error


def _reading(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    connection.row_factory = sqlite3.Row
    # One moment of a database that others write to meanwhile.
    connection.isolation_level = None
    connection.execute("BEGIN")
    return connection


def _walk(db: Database, keyring: Keyring, path: Path, name_all: bool) -> None:
    if not is_of_this_version(db):
        raise click.ClickException(say("verify.migrate", file=path))
    found = list(breaks(db, keyring))
    if found:
        for line in _broken_lines(found, name_all):
            click.echo(line, err=True)
        raise SystemExit(1)
    head = log.head(db)
    (entries,) = db.conn.execute("SELECT count(*) FROM entry").fetchone()
    (notes,) = db.conn.execute("SELECT count(*) FROM note").fetchone()
    told = {"entries": entries, "notes": notes}
    click.echo(say("verify.whole", **told, position=head.position, chain=head.chain))
    missing = lost.missing(db)
    if missing:
        click.echo(say("verify.lost", n=len(missing)))


def _broken_lines(found: list[Break], name_all: bool) -> list[str]:
    first = say("verify.first", where=found[0].where, what=found[0].what)
    others = found[1:]
    if name_all:
        told = [say("verify.found", where=b.where, what=b.what) for b in others]
        return [first, *told]
    return [first, *([say("verify.more", n=len(others))] if others else [])]
