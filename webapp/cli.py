"""The `wiremark` command: Flask's own command line, with ours added."""

from __future__ import annotations

import importlib.util

import click
from flask.cli import FlaskGroup, with_appcontext

from webapp.app import create_app
from webapp.app_db import settings


@click.group(
    cls=FlaskGroup,
    create_app=create_app,
    add_default_commands=True,
    load_dotenv=False,
)
def main() -> None:
    """Keep, sign and code the bedside record of temporary pacing wires."""


@main.command()
@click.option("--host", default=None, help="address to listen on")
@click.option("--port", default=None, type=int, help="port to listen on")
@with_appcontext
def serve(host: str | None, port: int | None) -> None:
    """Serve with waitress until stopped."""
    from flask import current_app
    from waitress import serve as wait

    site = settings()
    # Bodies are small and the database is one writer; more threads do not help.
    wait(
        current_app._get_current_object(),  # type: ignore[attr-defined]
        host=host or site.host,
        port=port or site.port,
        threads=4,
        ident=None,
    )


if importlib.util.find_spec("webapp.people.commands"):
    from webapp.people.commands import people, tablets

    main.add_command(people)
    main.add_command(tablets)
if importlib.util.find_spec("webapp.code_tables"):
    from webapp.code_tables import codes

    main.add_command(codes)
if importlib.util.find_spec("webapp.demo"):
    from webapp.demo import demo

    main.add_command(demo)
