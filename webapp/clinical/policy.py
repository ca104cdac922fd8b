"""A hospital's limits: the shipped rows, its overrides, and what start refuses.

Source of every row: `policy.toml` beside this file; fixtures/sources.md#clinical-24.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from webapp.clinical.exact import number
from webapp.clinical.policy_rows import (
    Row,
    UnusablePolicy,
    read_rows,
    refuse_row,
    values_of,
)

FILE = Path(__file__).with_name("policy.toml")
# The highest output of any generator found (domain 4f); a site may name a lower one.
GENERATOR_MAXIMUM_MA = "25"
_TIERS = ("threshold_good_ma", "threshold_acceptable_ma", "threshold_marginal_ma")


@dataclass(frozen=True, slots=True)
class Difference:
    """A row this hospital changed."""

    key: str
    shipped: str
    here: str
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Policy:
    """All limits of one hospital. `version` changes with every change of a value."""

    version: str
    rows: Mapping[str, Row]
    differences: tuple[Difference, ...] = ()

    def limits(self, is_adult: bool) -> dict[str, str]:
        """Return the single numbers by key; a child gets no row for adults.

        What is absent is silent: no adult limit is ever shown for a child.
        """
        return {
            key: row.value
            for key, row in self.rows.items()
            if row.kind == "number"
            and (row.ages == "all" or (row.ages == "adult" and is_adult))
        }


def load(
    overrides: Mapping[str, object] | None = None,
    generator_maximum_ma: str = GENERATOR_MAXIMUM_MA,
) -> Policy:
    """Return the shipped limits with a hospital's own put over them.

    `overrides`: key -> "2.5" (several: "48, 72", or a list), or {"value", "source",
    "word"}. Only values can be changed, never meanings, units or ages.
    Raises UnusablePolicy: for anything that fixtures/sources.md#clinical-24 refuses.
    """
    shipped = _shipped()
    rows = dict(shipped.rows)
    for key, given in _flat(overrides or {}).items():
        if key not in rows:
            raise UnusablePolicy(f"policy: no limit is called {key}")
        row = _overridden(rows[key], given)
        refuse_row(row)
        if row.values != rows[key].values:
            rows[key] = row
    _refuse_together(rows, generator_maximum_ma)
    changed = tuple(
        Difference(key, shipped.rows[key].value, row.value, row.unit, row.source)
        for key, row in rows.items()
        if row is not shipped.rows[key]
    )
    version = shipped.version
    if changed:
        version += "-" + _fingerprint({d.key: rows[d.key].values for d in changed})
    return Policy(version, MappingProxyType(rows), changed)


def exported(policy: Policy) -> dict[str, Any]:
    """Return what the tablet needs, as JSON: exact decimals as text.

    {"version", "rows": {key: {"value", "shown", "unit", "ages", "meaning", "source",
    "word"}}} of numbers; ranges, rows of several numbers, and who may test the
    threshold name their "kind" too;
    "card", the hospital's words for capture lost, "no_bands", the patterns of
    scanned codes that are no wristband, "roles", who may test the threshold, and
    "bring", what to fetch by kind of case.
    """
    names = ("value", "shown", "unit", "ages", "meaning", "source", "word")
    rows = {
        key: {name: getattr(row, name) for name in names}
        for key, row in policy.rows.items()
        if row.kind in ("number", "range", "numbers") or key == "threshold_by_roles"
    }
    for key, told in rows.items():
        if policy.rows[key].kind != "number":
            told["kind"] = policy.rows[key].kind
    card = policy.rows["capture_lost_card"].value
    no_bands = list(policy.rows["identity_refuse_patterns"].values)
    whole = {"version": policy.version, "rows": rows, "card": card}
    roles = ", ".join(policy.rows["threshold_by_roles"].values)
    bring = list(policy.rows["bring_list"].values)
    return {**whole, "no_bands": no_bands, "roles": roles, "bring": bring}


@lru_cache(maxsize=1)
def _shipped() -> Policy:
    version, rows = read_rows(FILE.read_text(encoding="utf-8"))
    return Policy(version, MappingProxyType(rows))


def _flat(given: Mapping[str, object], under: str = "") -> dict[str, object]:
    """Return nested tables as dotted keys: TOML reads a.b = "1" as a table."""
    found: dict[str, object] = {}
    for name, value in given.items():
        if isinstance(value, Mapping) and "value" not in value:
            found |= _flat(value, f"{under}{name}.")
        else:
            found[f"{under}{name}"] = value
    return found


def _overridden(row: Row, given: object) -> Row:
    told = given if isinstance(given, Mapping) else {"value": given}
    unknown = sorted(str(name) for name in set(told) - {"value", "source", "word"})
    if unknown:
        raise UnusablePolicy(
            f"policy: {row.key}: only value, source and word can be changed,"
            f" not {', '.join(unknown)}"
        )
    source, word = told.get("source", "this hospital"), told.get("word", "local")
    if not isinstance(source, str) or not isinstance(word, str):
        raise UnusablePolicy(f"policy: {row.key}: source and word are texts")
    values = values_of(row.key, row.kind, told["value"])
    source, word = source.strip(), word.strip()
    return replace(row, values=values, source=source, word=word, place="")


def _refuse_together(rows: Mapping[str, Row], generator_maximum_ma: str) -> None:
    """Refuse rows that are each allowed but contradict one another."""

    def exact(key: str) -> Fraction:
        return Fraction(rows[key].value)

    floor = exact("threshold_margin_floor")
    for key in ("threshold_margin_target", "margin_if_dependent"):
        if exact(key) < floor:
            raise UnusablePolicy(f"policy: {key} is below threshold_margin_floor")
    highest, least = number(generator_maximum_ma), exact("output_minimum_ma")
    if highest is None or least > highest:
        raise UnusablePolicy(
            f"policy: output_minimum_ma = {rows['output_minimum_ma'].value} is above"
            f" the generator's maximum, {generator_maximum_ma} mA"
        )
    tiers = [exact(key) for key in _TIERS]
    if tiers != sorted(tiers):
        raise UnusablePolicy(f"policy: {', '.join(_TIERS)} are not in ascending order")


def _fingerprint(changed: Mapping[str, tuple[str, ...]]) -> str:
    told = json.dumps({k: list(v) for k, v in changed.items()}, sort_keys=True)
    return hashlib.sha256(told.encode("utf-8")).hexdigest()[:8]


VERSION = _shipped().version
