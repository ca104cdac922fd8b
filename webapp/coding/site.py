"""What a site decided about its codes: switches, policies, rulings on rules."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from webapp.coding.rules import Rule

VERDICTS = ("confirm", "retire")
# Rules read a site's policies under this prefix.
SITE = "site."
# The switch without which no claim number of that system is shown.
CPT_ENABLED = "cpt_enabled"
# Facility codes of imaging, which no site has asked for yet.
IMAGING_CODES = "imaging_codes"
PACING_POLICIES = ("", "continuous", "intermittent")


class UnusableSiteCoding(ValueError):
    """A site's coding decision is not one we can follow."""


@dataclass(frozen=True, slots=True)
class RuleRuling:
    """A named coder's decision on one rule. `by`: name and credential."""

    rule: str
    by: str
    on: date
    verdict: str


@dataclass(frozen=True, slots=True)
class SiteCoding:
    """A site's decisions.

    `switches`: names of what is enabled here (cpt_enabled); `policies`: read by
    rules under `site.`; `require_edition`: refuse a code whose edition is not the
    one of its date.
    """

    facility: str = ""
    zone: str = "UTC"
    switches: frozenset[str] = frozenset()
    policies: Mapping[str, str] = field(default_factory=dict)
    require_edition: bool = False
    rulings: tuple[RuleRuling, ...] = ()

    def policy(self, path: str) -> str:
        """Return what the site decided under `site.name`, "" for nothing yet."""
        return self.policies.get(path.removeprefix(SITE), "")


def read_rulings(text: str) -> tuple[RuleRuling, ...]:
    """Read a site's rulings on rules, oldest first.

    Raises UnusableSiteCoding: when one lacks a word. A later ruling on the same
    rule stands; nothing is edited.
    """
    try:
        raw = tomllib.loads(text)
        return tuple(sorted((_ruling(r) for r in raw["ruling"]), key=lambda r: r.on))
    except (tomllib.TOMLDecodeError, KeyError, TypeError) as error:
        raise UnusableSiteCoding(f"rulings: {error}") from error


def as_ruled(rules: Iterable[Rule], site: SiteCoding) -> tuple[Rule, ...]:
    """Return the rules as this site has confirmed them, without the retired."""
    last = {ruling.rule: ruling for ruling in site.rulings}
    found: list[Rule] = []
    for rule in rules:
        ruling = last.get(rule.id)
        if ruling is None:
            found.append(rule)
        elif ruling.verdict == "confirm":
            found.append(replace(rule, confirmed_by=ruling.by, confirmed_on=ruling.on))
    return tuple(found)


def _ruling(raw: Mapping[str, Any]) -> RuleRuling:
    ruling = RuleRuling(raw["rule"], raw["by"], raw["on"], raw["verdict"])
    if ruling.verdict not in VERDICTS:
        raise UnusableSiteCoding(f"{ruling.rule}: verdict is confirm or retire")
    if not ruling.by or type(ruling.on) is not date:
        raise UnusableSiteCoding(f"{ruling.rule}: a ruling has a name and a date")
    return ruling
