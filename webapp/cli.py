"""The `wiremark` command: Flask's own command line, with ours added."""

from __future__ import annotations

import importlib.util
from dataclasses import replace

import click
from flask import Flask
from flask.cli import FlaskGroup

from webapp import serving
from webapp.app import create_app
from webapp.clinical.policy import Policy
from webapp.clinical.policy_rows import UnusablePolicy
from webapp.keep.commands import backup, backup_keys, restore
from webapp.keep.erase import erase
from webapp.keep.held import Held, holding
from webapp.keep.verify import verify
from webapp.say import say
from webapp.settings import Settings, UnusableSettings, load


def made(site: Settings | None = None) -> Flask:
    """Make the application, or say in one line why this site cannot be run.

    `site`: read from the home folder when None.

    Raises click.ClickException: for settings or limits that start refuses.
    """
    try:
        return create_app(site or load())
    except (UnusableSettings, UnusablePolicy) as error:
        raise click.ClickException(str(error)) from error


def differences(limits: Policy) -> list[str]:
    """Return a line for each limit that is not as shipped."""
    return [
        say("keep.limit_differs", limit=d.key, here=d.here, shipped=d.shipped)
        for d in limits.differences
    ]


@click.group(
    cls=FlaskGroup,
    create_app=made,
    add_default_commands=True,
    load_dotenv=False,
)
def main() -> None:
    """Keep, sign and code the bedside record of temporary pacing wires."""


@main.command(with_appcontext=False)
@click.option("--host", default=None, help="address to listen on")
@click.option("--port", default=None, type=int, help="port to listen on")
def serve(host: str | None, port: int | None) -> None:
    """Serve with waitress until stopped."""
    try:
        site = load()
    except UnusableSettings as error:
        raise click.ClickException(str(error)) from error
    # Where it listens is also a name it is asked for by.
    site = replace(site, host=host or site.host)
    at = {"host": site.host, "port": site.port if port is None else port}
    try:
        # Taken before the database is opened: a restore may be changing it.
        with holding(site.home):
            app = made(site)
            for line in differences(app.extensions["limits"]):
                click.echo(line)
            click.echo(say("keep.serving", **at))
            serving.serve(app, **at)
    except Held as error:
        raise click.ClickException(str(error)) from error


main.add_command(backup)
main.add_command(backup_keys)
main.add_command(erase)
main.add_command(restore)
main.add_command(verify)
if importlib.util.find_spec("webapp.people.commands"):
    from webapp.people.commands import people, tablets

    main.add_command(people)
    main.add_command(tablets)
if importlib.util.find_spec("webapp.code_tables"):
    from webapp.code_tables import codes

    main.add_command(codes)
if importlib.util.find_spec("webapp.demo"):
    from webapp.demo.commands import demo

    main.add_command(demo)
