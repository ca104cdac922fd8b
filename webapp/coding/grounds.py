"""What a record is judged by: its case, the tables, the site, and how it is read."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from webapp.coding.rules import LINE_SYSTEMS, Rule
from webapp.coding.site import SITE, SiteCoding
from webapp.coding.tables import Lookup, Tables
from webapp.coding.worked_out import (
    CHAMBERS_PLACED,
    CHILDREN,
    HOME,
    PROVIDERS,
    Subject,
    rows_of,
    told,
    value_of,
)
from webapp.record.case import WIRES, Case

# What others measured, said or wrote down is a fact, never a provider's statement.
OWN_WORDS = "seen"
ROW = "row."
# Read by rules beside the catalogue's own paths.
VIEW = "view"
Read = Callable[[str], dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Grounds:
    """What a record is judged by.

    `day`: date of service at the hospital; `settled`: the views whose date decides
    and is known; `confirmed`: entries a provider confirmed when signing.
    """

    case: Case
    tables: Tables
    site: SiteCoding
    views: tuple[str, ...]
    day: date | None
    settled: frozenset[str]
    confirmed: frozenset[str] = frozenset()

    def look_up(self, rule: Rule, view: str) -> Lookup:
        """Return the table a rule's code is looked up in."""
        if rule.system not in LINE_SYSTEMS:
            # What stands beside a code has no edition of its own to wait for.
            return Lookup(None, True)
        found = self.tables.look_up(rule.system, self.day)
        return replace(found, confirmed=found.confirmed and view in self.settled)

    def subjects(self, rule: Rule) -> list[Subject]:
        """Return what a rule is asked about; one without id when there is none."""
        return self._subjects(rule.for_each) or [Subject()]

    def _subjects(self, path: str) -> list[Subject]:
        if path == WIRES:
            return [Subject(wire.id, wire.id) for wire in self.case.wires]
        worked = rows_of(self.case, path, self.site.zone, self.confirmed)
        if worked is not None:
            return worked
        rows = self.case.rows(path) if path else []
        return [Subject(row.id, None, row.value) for row in rows]

    def reader(self, subject: Subject, view: str, head: int | None = None) -> Read:
        """Return the function the condition language reads this subject with.

        `row.child` reads the subject's own row, `site.name` the site's policy,
        `view` the view; `head`: take that one of two answers as if it stood alone.
        """
        of_record = self.case.reader(subject.wire, subject.row)

        def read(path: str) -> dict[str, Any]:
            if path == VIEW:
                return told([view])
            if path.startswith(SITE):
                decided = self.site.policy(path)
                return told([decided] if decided else [])
            if path in CHILDREN:
                return self._worked_rows(path)
            found = value_of(self.case, path) or of_record(path)
            if path.startswith(ROW) and found["values"]:
                return {**found, "ids": subject.entries}
            if head is not None and len(found["values"]) > 1:
                one = found["values"][head % len(found["values"])]
                return {**found, "values": [one]}
            return found

        return read

    def _worked_rows(self, path: str) -> dict[str, Any]:
        own = self._subjects(path)
        rows = [{**subject.row, "id": subject.id} for subject in own]
        return {**told([]), "rows": rows}

    def most_heads(self, subject: Subject, paths: Iterable[str]) -> int:
        """Return how many different answers the most disputed of the paths has."""
        read = self.reader(subject, "")
        return max((len(read(path)["values"]) for path in paths), default=0)

    def place(self, rule: Rule, subject: Subject, path: str) -> str:
        """Return where a path of a rule stands in this record."""
        if path.startswith(ROW):
            return self._place_in_row(rule.for_each, path.removeprefix(ROW))
        if path == CHAMBERS_PLACED:
            return self.case.wire_path(self.case.wires[-1], HOME[path])
        group = next((g for g in CHILDREN if path.startswith(f"{g}.")), "")
        if group:
            return self._place_in_row(group, path.removeprefix(f"{group}."))
        path = HOME.get(path, path)
        known = self.case.catalogue.field(path)
        if known is not None and known.per_wire and subject.wire:
            return self.case.wire_path(subject.wire, path)
        return path

    def _place_in_row(self, group: str, child: str) -> str:
        home = HOME.get(group, group)
        known = self.case.catalogue.field(home)
        is_recorded = group == home or (known is not None and known.child(child))
        return f"{home}.{child}" if is_recorded else home

    def label(self, path: str) -> str:
        """Return a field's label as it reads within a sentence."""
        known = self.case.catalogue.field(path)
        return known.label[:1].lower() + known.label[1:] if known else path

    def is_providers(self, entry_id: str) -> bool:
        """Return whether an operator or supervisor said this, or confirmed it.

        What somebody else told, a device read or a paper said stays theirs, whoever
        signs below it.
        """
        meta = self.case.meta(entry_id)
        people = (meta["author"], meta["called_by"] or {})
        roles = {person.get("role") for person in people}
        is_own = bool(roles & set(PROVIDERS)) or entry_id in self.confirmed
        return bool(meta["source"] == OWN_WORDS and is_own)
