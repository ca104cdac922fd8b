"""Code rules as data: read from TOML, checked in shape, put in order."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date
from graphlib import CycleError, TopologicalSorter
from pathlib import Path
from typing import Any

from webapp.coding.conditions import UnreadableCondition, bare, check_condition

SHIPPED_RULES = Path(__file__).parent / "rules"
# Those of a claim's lines; a place of service and a modifier stand beside a line.
DIAGNOSES = "ICD-10-CM"
LINE_SYSTEMS = (DIAGNOSES, "ICD-10-PCS", "CPT", "HCPCS")
PLACE_OF_SERVICE, MODIFIER = "POS", "modifier"
SYSTEMS = (*LINE_SYSTEMS, PLACE_OF_SERVICE, MODIFIER)
VIEWS = ("professional", "inpatient", "outpatient")
BASES = ("V", "S", "M")
STATES = ("candidate", "missing", "not_offered")
# In place of a question: no clinician is asked, the coder decides.
CODERS_OWN = "coder"
Condition = dict[str, Any]


class UnusableRule(ValueError):
    """A rule is not of the one shape; the text names it and what is wrong."""


@dataclass(frozen=True, slots=True)
class Need:
    """What a candidate must have.

    `missing`: its name when it fails, "" for the field's label, with a path in braces
    where a value is to be shown; `ask`: the question that would answer it, "" for
    the rule's first, "coder" for none.
    """

    condition: Condition
    missing: str
    ask: str


@dataclass(frozen=True, slots=True)
class Exclusion:
    """What keeps a code from being offered: a condition, or another rule's state."""

    because: str
    condition: Condition | None
    rule: str
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Rule:
    """One code and what the record must say for it; `says` is ours, no descriptor.

    `code`: "" where a person must choose among `between`, or where only a modifier
    is asked about; `for_each`: path of the rows it is asked for one by one; `once`:
    of those results only the best stands;
    `basis`: V verified, S stated on a public page, M from memory; `confirmed_by`:
    empty keeps a rule of basis M from being offered; `edition`, `valid`: where and
    for which days the code was looked up; `explain` or `explain_when`, and `because`:
    what is said when it does not apply, always or while a condition holds; `units`:
    a number, or the path it is read at; `policy`: path of what a site still decides
    about it; `states_what`: what a provider must state, in words.
    """

    id: str
    says: str
    system: str
    code: str
    views: tuple[str, ...]
    edition: str
    basis: str
    source: str
    confirmed_by: str
    rule_edition: str
    applies: tuple[Condition, ...]
    needs: tuple[Need, ...] = ()
    excludes: tuple[Exclusion, ...] = ()
    between: tuple[str, ...] = ()
    valid: tuple[date, date] | None = None
    confirmed_on: date | None = None
    site_switch: str = ""
    provider: bool = False
    states_what: str = ""
    for_each: str = ""
    once: bool = False
    explain: bool = False
    explain_when: Condition | None = None
    because: str = ""
    policy: str = ""
    asks: tuple[str, ...] = ()
    modifiers: tuple[str, ...] = ()
    units: str = ""
    fixtures: tuple[str, ...] = ()

    @property
    def conditions(self) -> tuple[Condition, ...]:
        """Return every condition the rule reads."""
        needed = (need.condition for need in self.needs)
        excluded = (e.condition for e in self.excludes if e.condition is not None)
        told = [self.explain_when] if self.explain_when else []
        return (*self.applies, *needed, *excluded, *told)


def load_rules(folder: Path = SHIPPED_RULES) -> tuple[Rule, ...]:
    """Read every rule of a folder, each after the rules it looks at.

    Raises UnusableRule: naming the rule and what is wrong with it.
    """
    found: dict[str, Rule] = {}
    for file in sorted(folder.glob("*.toml")):
        raw = tomllib.loads(file.read_text(encoding="utf-8"))
        for one in raw["rule"]:
            # A rule's own key stands in place of its file's default.
            rule = read_rule({**raw.get("defaults", {}), **one}, raw["rule_edition"])
            if rule.id in found:
                raise UnusableRule(f"{rule.id}: stands twice")
            found[rule.id] = rule
    return _in_order(found)


def read_rule(raw: Mapping[str, Any], rule_edition: str) -> Rule:
    """Make a rule of one TOML table. Raises UnusableRule."""
    name = raw.get("id", "a rule without id")
    known = {f.name for f in fields(Rule)} - {"rule_edition"}
    unknown = set(raw) - known
    if unknown:
        raise UnusableRule(f"{name}: no key is called {sorted(unknown)[0]}")
    try:
        rule = Rule(**_values(raw), rule_edition=rule_edition)
    except (TypeError, UnreadableCondition, KeyError) as error:
        raise UnusableRule(f"{name}: {error}") from error
    for problem in _problems(rule):
        raise UnusableRule(f"{name}: {problem}")
    return rule


def _values(raw: Mapping[str, Any]) -> dict[str, Any]:
    values = {k: tuple(v) if isinstance(v, list) else v for k, v in raw.items()}
    told = [raw["explain_when"]] if "explain_when" in raw else []
    for condition in (*values.get("applies", ()), *told):
        check_condition(condition)
    values["needs"] = tuple(_need(n) for n in raw.get("needs", []))
    values["excludes"] = tuple(_exclusion(e) for e in raw.get("excludes", []))
    return values


def _need(raw: Mapping[str, Any]) -> Need:
    check_condition(raw)
    return Need(bare(raw), raw.get("missing", ""), raw.get("ask", ""))


def _exclusion(raw: Mapping[str, Any]) -> Exclusion:
    if "rule" in raw:
        state = raw["state"]
        states = tuple(state) if isinstance(state, list) else (state,)
        return Exclusion(raw["because"], None, raw["rule"], states)
    check_condition(raw)
    return Exclusion(raw["because"], bare(raw), "", ())


def _problems(rule: Rule) -> list[str]:
    explains = rule.explain or rule.explain_when is not None
    checks = (
        (rule.system in SYSTEMS, f"no system is called {rule.system}"),
        (rule.basis in BASES, "basis is V, S or M"),
        (bool(rule.views) and set(rule.views) <= set(VIEWS), "views are not known"),
        (bool(rule.applies), "applies is empty"),
        (_has_choice(rule), "no code and nothing between"),
        (bool(rule.source), "source is empty"),
        (not explains or bool(rule.because), "explain needs because"),
        (rule.basis == "M" or bool(rule.confirmed_by), "confirmed_by is empty"),
        (len(rule.fixtures) == 3, "fixtures: fires, almost, refuses"),
        (
            all(set(e.states) <= set(STATES) for e in rule.excludes),
            "an exclusion names no known state",
        ),
    )
    return [text for holds, text in checks if not holds]


def _has_choice(rule: Rule) -> bool:
    if rule.system == MODIFIER:
        return not rule.code and bool(rule.modifiers)
    return bool(rule.code) or bool(rule.between)


def _in_order(found: dict[str, Rule]) -> tuple[Rule, ...]:
    looks_at = {
        rule.id: [e.rule for e in rule.excludes if e.rule] for rule in found.values()
    }
    for name, others in looks_at.items():
        for other in others:
            if other not in found:
                raise UnusableRule(f"{name}: no rule is called {other}")
    try:
        return tuple(found[i] for i in TopologicalSorter(looks_at).static_order())
    except CycleError as error:
        raise UnusableRule(f"rules exclude each other: {error.args[1]}") from error
