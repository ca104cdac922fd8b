"""`wiremark backup`, `wiremark backup-keys` and `wiremark restore`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from webapp.keep.backup import CannotBackUp, Made, back_up
from webapp.keep.held import Held, alone
from webapp.keep.keys_apart import CannotCopyKeys, bring_keys, copy_keys
from webapp.keep.lost_entries import Beyond
from webapp.keep.proof import NotProven
from webapp.keep.restore import CannotRestore, Plan, plan
from webapp.keep.restore import restore as put_in_place
from webapp.say import say
from webapp.settings import UnusableSettings, load

PATH = click.Path(path_type=Path)
CHECKED = (
    CannotBackUp,
    CannotCopyKeys,
    CannotRestore,
    Held,
    NotProven,
    UnusableSettings,
)
SHOWN_LOST = 200


@click.command("backup")
@click.argument("file", type=PATH)
@click.option("--force", is_flag=True, help="replace FILE when it is there")
@click.option("--keys", type=PATH, default=None, help="folder for the server's keys")
@click.option(
    "--carried-off", is_flag=True,
    help="FILE leaves this disk by other means, so it counts as copied",
)  # fmt: skip
def backup(file: Path, force: bool, keys: Path | None, carried_off: bool) -> None:
    """Copy the database to FILE while the server writes, and prove the copy."""
    try:
        site = load()
        made = back_up(site, file, may_replace=force, is_carried_off=carried_off)
        named = copy_keys(site.home, keys) if keys else []
    except CHECKED as error:
        raise click.ClickException(str(error)) from error
    for line in _made_lines(made):
        click.echo(line)
    click.echo(_keys_line(keys, named) if keys else say("keep.keys_apart"))


@click.command("backup-keys")
@click.argument("folder", type=PATH)
def backup_keys(folder: Path) -> None:
    """Copy the server's private keys and settings to FOLDER."""
    try:
        named = copy_keys(load().home, folder)
    except CHECKED as error:
        raise click.ClickException(str(error)) from error
    click.echo(_keys_line(folder, named))


@click.command("restore")
@click.argument("file", type=PATH)
@click.option("--keys", type=PATH, default=None, help="folder the keys were copied to")
@click.option("--yes", is_flag=True, help="do not ask first")
def restore(file: Path, keys: Path | None, yes: bool) -> None:
    """Put the backup FILE in place of the database, which is set aside."""
    try:
        site = load()
        with alone(site.home):
            brought = bring_keys(keys, site.home) if keys else []
            planned = plan(site, file)
            for line in [*([_brought(brought)] if keys else []), *plan_lines(planned)]:
                click.echo(line)
            if not yes:
                click.confirm(say("keep.go_on"), abort=True)
            aside = put_in_place(site, planned)
    except CHECKED as error:
        raise click.ClickException(str(error)) from error
    click.echo(say("keep.restored", position=planned.stamp.position))
    if aside is not None:
        click.echo(say("keep.aside", file=aside))


def plan_lines(planned: Plan) -> Iterator[str]:
    """Return, a line each, what a restore will do and what it will cost."""
    stamp = planned.stamp
    yield say("keep.plan", file=planned.file, made_at=stamp.made_at)
    yield say("keep.head", position=stamp.position, chain=stamp.chain)
    if planned.is_there_a_database:
        yield from _beyond_lines(planned.beyond)
    yield say("keep.undone", made_at=stamp.made_at)
    yield say("keep.sessions_end")
    for key in planned.keys_missing:
        yield say("keep.key_missing", name=key)


def _beyond_lines(found: Beyond) -> Iterator[str]:
    yield say("keep.will_be_aside")
    if not found.is_read:
        yield say("keep.beyond_unread")
        return
    for tablet, count in found.by_tablet:
        name = tablet or say("keep.some_tablet")
        yield say("keep.tablet_sends_again", tablet=name, count=count)
    if found.desk:
        yield say("keep.desk_lost", count=len(found.desk))
    for entry in found.desk[:SHOWN_LOST]:
        yield say(
            "keep.desk_entry",
            path=entry.path or say("review.unreadable"),
            author=entry.author or say("review.nobody"),
            at=entry.at,
            who=entry.who or entry.header.record,
        )
    if found.erasures:
        yield say("keep.erased_again", count=found.erasures)
    if len(found.desk) > SHOWN_LOST:
        yield say("keep.desk_more", count=len(found.desk) - SHOWN_LOST)


def _made_lines(made: Made) -> Iterator[str]:
    counted = {f"{name}s": count for name, count in made.counts.items()}
    yield say("keep.made", file=made.file, size=f"{made.size_bytes:,}")
    yield say("keep.head", position=made.stamp.position, chain=made.stamp.chain)
    yield say("keep.counts", **counted)
    yield say("keep.sha256", sha256=made.sha256)
    if not made.is_elsewhere:
        yield say("keep.same_disk")


def _keys_line(folder: Path, names: list[str]) -> str:
    return say("keep.keys_copied", folder=folder, count=len(names))


def _brought(names: list[str]) -> str:
    return say("keep.keys_brought", count=len(names))
