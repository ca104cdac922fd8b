"""The page of the limits: each with its value, its range, and where it comes from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from flask import Blueprint, render_template

from webapp.app_db import get_db, limits
from webapp.catalogue.units import shown_unit
from webapp.clinical import policy
from webapp.clinical.policy import Policy
from webapp.clinical.policy_rows import WORDS, Row
from webapp.errors import NotFound
from webapp.people.accounts import ROLES
from webapp.record import pinned_limits
from webapp.say import say
from webapp.views.desk_auth import requires

bp = Blueprint("limits", __name__)

COLUMNS = ("meaning", "value", "may_be", "ages", "source")
CARD = "capture_lost_card"
# The first limit of each group; those that follow in the shipped file belong to it.
FIRST = {
    "sheath_over_wire_max_fr": "kit",
    "coil_advance_without_change_cm": "way",
    "own_rhythm_minimum_per_min": "own",
    "margin_shown_factor": "test",
    "threshold_good_ma": "margin",
    "sensitivity_fraction": "sensing",
    "first_rate_emergency_per_min": "settings",
    "threshold_stale_h": "checks",
    "adult_from_years": "age",
    "lidocaine_plain_mg_per_kg": "drugs",
    "emergency_line_replace_h": "case",
    "removal_watch_min": "after",
    "look_again_clean_case_max": "case",
    "torsades_overdrive_range_per_min": "settings",
}


@dataclass(frozen=True, slots=True)
class LimitLine:
    """One limit as shown. `shipped`: its shipped value where it differs, else "";
    `texts`: its values where they are texts; `may_be`: "" where nothing bounds it.
    """

    row: Row
    shown: str
    shipped: str
    may_be: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """Limits under one heading."""

    title: str
    lines: tuple[LimitLine, ...]

    @property
    def is_texts(self) -> bool:
        """Return whether these are lists and words, which no numbers bound."""
        return all(line.texts for line in self.lines)

    @property
    def columns(self) -> tuple[str, ...]:
        """Return the columns that say something of these limits."""
        return tuple(c for c in COLUMNS if c != "may_be" or not self.is_texts)


@bp.get("/limits")
@requires(*ROLES)
def index() -> str:
    """Show every limit in use."""
    return _page(limits())


@bp.get("/limits/<version>")
@requires(*ROLES)
def of_version(version: str) -> str:
    """Show the limits of a version that is or was in use here."""
    found = pinned_limits.of_version(get_db(), version)
    if found is None:
        raise NotFound
    return _page(found)


def _page(found: Policy) -> str:
    groups = grouped(found)
    lines = [line for group in groups for line in group.lines]
    return render_template(
        "limits/index.html",
        groups=groups,
        version=found.version,
        is_in_use=found.version == limits().version,
        differs=[line for line in lines if line.shipped],
        card=found.rows[CARD],
        card_differs=found.rows[CARD].values != policy.load().rows[CARD].values,
        words=WORDS,
    )


def grouped(found: Policy) -> tuple[Group, ...]:
    """Return the limits by group, in the order of the shipped file, texts last."""
    groups: dict[str, list[LimitLine]] = {}
    name = ""
    for key, row in found.rows.items():
        name = FIRST.get(key, name)
        if key != CARD:
            own = "texts" if row.kind == "texts" else name
            groups.setdefault(own, []).append(_line(row))
    order = dict.fromkeys([*FIRST.values(), "texts"])
    return tuple(
        Group(say(f"limits.group.{one}"), tuple(groups[one]))
        for one in order
        if one in groups
    )


def _line(row: Row) -> LimitLine:
    shipped = policy.load().rows.get(row.key)
    differs = shipped is not None and shipped.values != row.values
    is_text = row.kind == "texts"
    return LimitLine(
        row,
        "" if is_text else _shown(row, row.values),
        _shown(row, shipped.values) if differs and shipped else "",
        "" if is_text else _may_be(row),
        tuple(map(_readable, row.values)) if is_text else (),
    )


def _readable(text: str) -> str:
    """Return a text whose control signs, as a scanner sends them, can be seen."""
    return "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in text)


def _shown(row: Row, values: Iterable[str]) -> str:
    joined = (" to " if row.kind == "range" else ", ").join(values)
    return f"{joined} {_sign(row)}".strip()


def _may_be(row: Row) -> str:
    told = say("limits.may_be", low=row.low, high=row.high)
    return f"{told} {_sign(row)}".strip()


def _sign(row: Row) -> str:
    return row.sign or shown_unit(row.unit)
