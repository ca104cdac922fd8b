"""`wiremark people` and `wiremark tablets`: the administrator's commands."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from webapp.app_db import get_db
from webapp.people import accounts
from webapp.people import tablets as tablet_list
from webapp.people.accounts import ROLES, CannotKeep, NewPerson, Person
from webapp.people.tablets import CODE_HOURS, Tablet
from webapp.say import say


@click.group()
def people() -> None:
    """Who may sign in, and in which roles."""


@people.command("add")
@click.argument("login")
@click.option("--name", required=True, help="full name, as it is printed")
@click.option(
    "--role", "roles", required=True, multiple=True, type=click.Choice(ROLES),
    help="may be given several times",
)  # fmt: skip
@click.option("--credential", default="", help="letters after the name")
@click.option("--npi", default="", help="National Provider Identifier, ten digits")
@click.option("--billing-group", default="", help="group the person bills under")
@click.password_option(help="asked for when not given")
@with_appcontext
def add_person(
    login: str,
    name: str,
    roles: tuple[str, ...],
    credential: str,
    npi: str,
    billing_group: str,
    password: str,
) -> None:
    """Make an account for LOGIN."""
    new = NewPerson(login, name, roles, password, credential, npi, billing_group)
    try:
        person = accounts.add(get_db(), new)
    except CannotKeep as error:
        raise click.ClickException(str(error)) from error
    click.echo(say("people.added", name=person.name, login=person.login))


@people.command("list")
@with_appcontext
def list_people() -> None:
    """Show every account."""
    for person in accounts.people(get_db()):
        state = "" if person.is_active else say("people.deactivated_word")
        cells = (
            person.login,
            person.name,
            person.credential,
            ",".join(person.roles),
            person.npi,
            state,
        )
        click.echo("\t".join(cells))


@people.command("password")
@click.argument("login")
@click.password_option(help="asked for when not given")
@with_appcontext
def change_password(login: str, password: str) -> None:
    """Give LOGIN a new password; their sessions end."""
    person = _person(login)
    try:
        accounts.change_password(get_db(), person.id, password)
    except CannotKeep as error:
        raise click.ClickException(str(error)) from error
    click.echo(say("people.password_changed", name=person.name))


@people.command("deactivate")
@click.argument("login")
@with_appcontext
def deactivate_person(login: str) -> None:
    """Let LOGIN in no more; what they entered stays theirs."""
    person = _person(login)
    accounts.deactivate(get_db(), person.id)
    click.echo(say("people.deactivated", name=person.name))


@people.command("reactivate")
@click.argument("login")
@with_appcontext
def reactivate_person(login: str) -> None:
    """Let LOGIN in again."""
    person = _person(login)
    accounts.reactivate(get_db(), person.id)
    click.echo(say("people.reactivated", name=person.name))


@click.group()
def tablets() -> None:
    """Which tablets may send entries."""


@tablets.command("add")
@click.argument("name")
@with_appcontext
def add_tablet(name: str) -> None:
    """Make a place for the tablet NAME and print its code, used once."""
    try:
        _, code = tablet_list.add(get_db(), name)
    except CannotKeep as error:
        raise click.ClickException(str(error)) from error
    click.echo(code)
    click.echo(say("tablets.code_use", hours=CODE_HOURS), err=True)


@tablets.command("renew")
@click.argument("name")
@with_appcontext
def renew_tablet(name: str) -> None:
    """Print a new code for the known tablet NAME."""
    click.echo(tablet_list.renew(get_db(), _tablet(name).id))
    click.echo(say("tablets.code_use", hours=CODE_HOURS), err=True)


@tablets.command("list")
@with_appcontext
def list_tablets() -> None:
    """Show every tablet, when it was last seen, and what it holds back."""
    for listed in tablet_list.tablets(get_db()):
        tablet = listed.tablet
        click.echo(
            "\t".join(
                (
                    tablet.name,
                    say(f"tablets.state.{tablet.state}"),
                    tablet.last_seen_at or say("tablets.never_seen"),
                    say("tablets.held_back", count=listed.undelivered),
                )
            )
        )


@tablets.command("revoke")
@click.argument("name")
@with_appcontext
def revoke_tablet(name: str) -> None:
    """Count nothing more from the tablet NAME."""
    tablet = _tablet(name)
    tablet_list.revoke(get_db(), tablet.id)
    click.echo(say("tablets.revoked", name=tablet.name))


def _person(login: str) -> Person:
    found = accounts.by_login(get_db(), login)
    if found is None:
        raise click.ClickException(say("people.unknown", login=login))
    return found


def _tablet(name: str) -> Tablet:
    found = tablet_list.by_name(get_db(), name)
    if found is None:
        raise click.ClickException(say("tablets.unknown", name=name))
    return found
