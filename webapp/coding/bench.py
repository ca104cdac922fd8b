"""One rule asked about one subject of a record, and how it reads there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from webapp.catalogue.when import holds
from webapp.coding.conditions import leaves, paths_in
from webapp.coding.findings import Finding, State
from webapp.coding.grounds import Grounds, Read
from webapp.coding.rules import Condition, Rule
from webapp.coding.tables import Lookup
from webapp.coding.worked_out import Subject
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Bench:
    """`said`: what the rules judged before this one found, by rule id."""

    rule: Rule
    view: str
    grounds: Grounds
    subject: Subject
    read: Read
    said: dict[str, list[Finding]]

    @property
    def lookup(self) -> Lookup:
        """Return the table the rule's code is looked up in."""
        return self.grounds.look_up(self.rule, self.view)

    @property
    def is_switched_off(self) -> bool:
        """Return whether the site has not enabled what the rule needs enabled."""
        switch = self.rule.site_switch
        return bool(switch) and switch not in self.grounds.site.switches

    @property
    def explains(self) -> bool:
        """Return whether it is said why the rule does not apply here."""
        when = self.rule.explain_when
        return self.rule.explain or (when is not None and self.holds(when))

    @property
    def has_subject(self) -> bool:
        """Return whether there is anything the rule can be asked about."""
        return bool(self.subject.id) or not self.rule.for_each

    def holds(self, condition: Condition) -> bool:
        """Return whether a condition holds here."""
        return holds(condition, self.read)[0]

    def units(self, state: State) -> str:
        """Return how many units a candidate has, "" where that is not settled.

        What is counted out of a record that still lacks something is not.
        """
        told = self.rule.units
        if state == "not_offered" or not told or told.isdigit():
            return "" if state == "not_offered" else told
        value = next(iter(self.read(told)["values"]), None)
        return str(value["n"]) if state == "candidate" and value else ""

    def words_at(self, path: str) -> str:
        """Return what stands at a path as it reads within a sentence."""
        values = self.read(path)["values"]
        shown = [
            str(v.get("as", "")) if isinstance(v, dict) else str(v) for v in values
        ]
        return " or ".join(shown) or say("coding.missing.not_known")

    def applies(self, read: Read | None = None) -> bool:
        """Return whether the rule applies; `read` in place of its own reading."""
        return all(holds(c, read or self.read)[0] for c in self.rule.applies)

    def evidence(self, conditions: Iterable[Condition]) -> tuple[str, ...]:
        """Return the entries behind the tests that hold, each once, in order."""
        ids: list[str] = []
        for test in (leaf for condition in conditions for leaf in leaves(condition)):
            held, read = holds(test, self.read)
            ids += read if held else []
        return tuple(dict.fromkeys(ids))

    def place(self, path: str) -> str:
        """Return where a path of the rule stands in this record."""
        return self.grounds.place(self.rule, self.subject, path)

    def is_disputed(self, path: str) -> bool:
        """Return whether a path has two answers."""
        return len(self.read(path)["values"]) > 1

    def first_place(self) -> str:
        """Return where the first fact stands that speaks for the code.

        A rule that applies to everything but something hangs beside its first need.
        """
        applies, needs = self.rule.applies, [n.condition for n in self.rule.needs]
        told = [leaf for condition in applies for leaf in leaves(condition)]
        held = [test for test in told if self.holds(test)]
        conditions = [*held, *told] if told else [*needs, *applies]
        return self.place(next(p for c in conditions for p in paths_in(c)))
