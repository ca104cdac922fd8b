"""The coded part of the note, and the judge of this site's codes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from flask import current_app, g

from webapp.app_db import settings
from webapp.coding.facts import facts_of, head_of
from webapp.coding.rules import load_rules
from webapp.coding.sheet import Judge, make_judge
from webapp.coding.site import (
    CPT_ENABLED,
    SiteCoding,
    UnusableSiteCoding,
    read_rulings,
)
from webapp.coding.tables import UnusableTable, load_tables
from webapp.note.model import CodeFact
from webapp.record.open_record import OpenRecord
from webapp.say import say
from webapp.settings import Settings

RULINGS_FILE = "coding.toml"
TABLES_FOLDER = "code-tables"
_KEPT = "coding_judge"
_Seen = tuple[tuple[str, int, int, int], ...]


@dataclass(frozen=True, slots=True)
class _Kept:
    """A judge, and the files it was made of as they were then."""

    seen: _Seen
    judge: Judge


def code_facts(found: OpenRecord) -> tuple[CodeFact, ...]:
    """Return the coded facts of a record as it stands."""
    return facts_of(site_judge(), found.case)


def code_head(found: OpenRecord) -> tuple[str, ...]:
    """Return the first line of the coded facts."""
    return head_of(site_judge(), found.case)


def site_judge() -> Judge:
    """Return the judge of this site, one for a whole request.

    Made at its first use, and again once a file it was made of changed. Raises
    UnusableTable, UnusableRule, UnusableSiteCoding at the first: naming the file's
    fault.
    """
    if _KEPT not in g:
        g.coding_judge = _judge_of_now()
    found: Judge = g.coding_judge
    return found


def _judge_of_now() -> Judge:
    site = settings()
    # Before reading: what changes meanwhile is noticed by the next request.
    seen = _files_seen(site.home)
    kept: _Kept | None = current_app.extensions.get(_KEPT)
    if kept is None or kept.seen != seen:
        kept = _Kept(seen, _made(site, kept))
        current_app.extensions[_KEPT] = kept
    return kept.judge


def _made(site: Settings, before: _Kept | None) -> Judge:
    """Return a judge of the files as they are; of those before, when one is spoilt.

    A file that somebody puts there by hand must not stop a note from being signed.
    """
    try:
        tables = load_tables(site.home / TABLES_FOLDER)
        return make_judge(load_rules(), tables, site_coding(site))
    except (UnusableTable, UnusableSiteCoding, OSError) as error:
        if before is None:
            raise
        current_app.logger.error("%s", say("codes.files_spoilt", fault=error))
        return before.judge


def _files_seen(home: Path) -> _Seen:
    """Return each file's name and what changes with its content."""
    folder = home / TABLES_FOLDER
    files = [home / RULINGS_FILE]
    files += sorted(f for f in folder.glob("*") if f.suffix in (".toml", ".json"))
    return tuple(_seen_one(file) for file in files)


def _seen_one(file: Path) -> tuple[str, int, int, int]:
    try:
        stat = file.stat()
    except FileNotFoundError:
        return file.name, 0, 0, 0
    return file.name, stat.st_ino, stat.st_size, stat.st_mtime_ns


def site_coding(site: Settings) -> SiteCoding:
    """Return what the site decided about its codes."""
    rulings = site.home / RULINGS_FILE
    policies = {"pacing_code": site.pacing_code_policy}
    return SiteCoding(
        facility=site.facility,
        zone=site.zone,
        switches=frozenset([CPT_ENABLED] if site.cpt_enabled else []),
        policies={name: decided for name, decided in policies.items() if decided},
        require_edition=site.require_edition,
        rulings=(
            read_rulings(rulings.read_text(encoding="utf-8"))
            if rulings.exists()
            else ()
        ),
    )
