"""The coded part of the note, and the judge of this site's codes."""

from __future__ import annotations

from flask import current_app

from webapp.app_db import settings
from webapp.coding.facts import facts_of, head_of
from webapp.coding.rules import load_rules
from webapp.coding.sheet import Judge, make_judge
from webapp.coding.site import CPT_ENABLED, SiteCoding, read_rulings
from webapp.coding.tables import load_tables
from webapp.note.model import CodeFact
from webapp.record.open_record import OpenRecord
from webapp.settings import Settings

RULINGS_FILE = "coding.toml"
TABLES_FOLDER = "code-tables"
_KEPT = "coding_judge"


def code_facts(found: OpenRecord) -> tuple[CodeFact, ...]:
    """Return the coded facts of a record as it stands."""
    return facts_of(site_judge(), found.case)


def code_head(found: OpenRecord) -> tuple[str, ...]:
    """Return the first line of the coded facts."""
    return head_of(site_judge(), found.case)


def site_judge() -> Judge:
    """Return the judge of the running site, made at its first use.

    Raises UnusableTable, UnusableRule, UnusableSiteCoding: naming the file's fault.
    """
    if _KEPT not in current_app.extensions:
        site = settings()
        tables = load_tables(site.home / TABLES_FOLDER)
        made = make_judge(load_rules(), tables, site_coding(site))
        current_app.extensions[_KEPT] = made
    found: Judge = current_app.extensions[_KEPT]
    return found


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
