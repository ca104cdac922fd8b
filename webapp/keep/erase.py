"""`wiremark erase`: take one entry's words out of the record, the reason stays."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from webapp.app_db import get_db, settings
from webapp.db import writing
from webapp.people import access_log, accounts
from webapp.record import erase as erasing
from webapp.record import log
from webapp.record.desk import Writer
from webapp.say import say


@click.command("erase")
@click.argument("entry")
@click.option("--by", required=True, help="sign-in name of the person who decides it")
@click.option("--reason", required=True, help="why; it stays in the record")
@with_appcontext
def erase(entry: str, by: str, reason: str) -> None:
    """Erase what ENTRY says, for good; header, digest and reason stay."""
    db = get_db()
    person = accounts.by_login(db, by)
    if person is None:
        raise click.ClickException(say("people.unknown", login=by))
    writer = Writer(person.id, person.name, person.roles[0], settings().zone)
    try:
        told = erasing.erase(db, entry, writer, reason)
    except erasing.CannotErase as error:
        raise click.ClickException(str(error)) from error
    found = log.entry_by_id(db, told)
    with writing(db):
        access_log.note(
            db,
            "record:erase",
            person=person.id,
            record=found.header.record if found else None,
            detail=entry,
        )
    click.echo(say("erase.done", entry=told))
