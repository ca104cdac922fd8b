"""`wiremark codes`: load a year's official order file, list what is in hand."""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path

import click
from flask.cli import with_appcontext

from webapp.app_db import settings
from webapp.coding.order_file import as_json, read_order_file
from webapp.coding.tables import UnusableTable, load_tables
from webapp.keep.files import write_whole
from webapp.say import say
from webapp.views.code_facts import TABLES_FOLDER

SYSTEMS = ("ICD-10-CM", "ICD-10-PCS")
DAY = click.DateTime(["%Y-%m-%d"])


@click.group()
def codes() -> None:
    """Code tables: one edition a file, each with the days it may serve."""


@codes.command("load")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--system", required=True, type=click.Choice(SYSTEMS))
@click.option("--edition", required=True, help="its name, such as FY2027")
@click.option("--from", "first", required=True, type=DAY, help="first day it serves")
@click.option("--to", "last", required=True, type=DAY, help="last day it serves")
@with_appcontext
def load(
    file: Path, system: str, edition: str, first: datetime, last: datetime
) -> None:
    """Load an order file as the publisher issues it: fixed-width text."""
    valid = (_day(first), _day(last))
    if valid[1] < valid[0]:
        raise click.ClickException(say("codes.days_backwards"))
    if not edition.replace("-", "").replace(".", "").isalnum():
        raise click.ClickException(say("codes.edition_form"))
    try:
        table = read_order_file(file.read_bytes(), system, edition, valid, file.name)
    except UnusableTable as error:
        raise click.ClickException(f"{file.name}: {error}") from error
    folder = settings().home / TABLES_FOLDER
    folder.mkdir(mode=0o700, exist_ok=True)
    kept = folder / f"{system}-{edition}.json".lower()
    # A running server reads it as soon as it is there: whole, or not at all.
    write_whole(kept, json.dumps(as_json(table), ensure_ascii=False).encode())
    click.echo(
        say("codes.loaded", edition=edition, system=system, n=len(table.billable))
    )


@codes.command("list")
@with_appcontext
def list_tables() -> None:
    """Show every edition in hand."""
    for table in load_tables(settings().home / TABLES_FOLDER).tables:
        days = f"{table.valid_from} {table.valid_to}"
        cells = (table.system, table.edition, days, str(len(table.billable)))
        click.echo("\t".join((*cells, table.source)))


def _day(moment: datetime) -> date:
    return moment.date()
