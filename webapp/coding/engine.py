"""Judge a record by the rules: candidate, something missing, or not offered.

Knows no code by name. Does not decide and does not write: a named coder does.
"""

from __future__ import annotations

from collections.abc import Iterable

from webapp.coding.bench import Bench
from webapp.coding.findings import BEST_FIRST, Finding, Missing, State
from webapp.coding.grounds import Grounds
from webapp.coding.lacking import lacking, may_apply
from webapp.coding.rules import Exclusion, Rule
from webapp.say import say


def judge(rules: Iterable[Rule], grounds: Grounds) -> tuple[Finding, ...]:
    """Return what each rule says; `rules` in the order `load_rules` gives them.

    A rule that has nothing to do with the record says nothing, unless it explains
    itself. Whether the record is signed is the sheet's to ask, not the engine's.
    """
    found: list[Finding] = []
    ordered = tuple(rules)
    for view in grounds.views:
        said: dict[str, list[Finding]] = {}
        for rule in ordered:
            if view in rule.views:
                said[rule.id] = _judge_rule(rule, view, grounds, said)
        found += [finding for own in said.values() for finding in own]
    return tuple(found)


def _judge_rule(
    rule: Rule, view: str, grounds: Grounds, said: dict[str, list[Finding]]
) -> list[Finding]:
    found: list[Finding] = []
    for subject in grounds.subjects(rule):
        read = grounds.reader(subject, view)
        finding = _judge_one(Bench(rule, view, grounds, subject, read, said))
        if finding is not None:
            found.append(finding)
    if rule.once and found:
        return [min(found, key=lambda f: BEST_FIRST.index(f.state))]
    return found


def _judge_one(bench: Bench) -> Finding | None:
    """Ask the tests in their order: barred, applies, excluded, needs."""
    rule = bench.rule
    applies = bench.has_subject and (bench.applies() or may_apply(bench))
    if not applies and not bench.explains:
        return None
    barred = _barred(bench) or ("" if applies else rule.because)
    evidence = bench.evidence(rule.applies) if applies else ()
    if barred:
        return _finding(bench, "not_offered", evidence, because=barred)
    for exclusion in rule.excludes:
        if _excludes(bench, exclusion):
            condition = exclusion.condition
            evidence += bench.evidence([condition] if condition else [])
            told = exclusion.because
            return _finding(bench, "not_offered", evidence, because=told)
    evidence += bench.evidence(need.condition for need in rule.needs)
    missing = lacking(bench)
    state: State = "missing" if missing else "candidate"
    return _finding(bench, state, evidence, missing=missing)


def _barred(bench: Bench) -> str:
    """Return why a code may not be offered at all here, "" when it may."""
    rule, site, lookup = bench.rule, bench.grounds.site, bench.lookup
    codes = (rule.code,) if rule.code else rule.between
    if lookup.table and not all(lookup.table.is_leaf(c) for c in codes):
        return say("coding.because.not_in_edition", edition=lookup.table.edition)
    if site.require_edition and not lookup.confirmed:
        return say("coding.because.edition_required")
    if bench.is_switched_off:
        return say("coding.because.not_enabled")
    if rule.basis == "M" and not rule.confirmed_by:
        return say("coding.because.to_be_checked")
    return ""


def _excludes(bench: Bench, exclusion: Exclusion) -> bool:
    if exclusion.condition is not None:
        return bench.holds(exclusion.condition)
    states = {finding.state for finding in bench.said.get(exclusion.rule, [])}
    return bool(states & set(exclusion.states))


def _finding(
    bench: Bench,
    state: State,
    evidence: tuple[str, ...],
    because: str = "",
    missing: tuple[Missing, ...] = (),
) -> Finding:
    lookup = bench.lookup
    return Finding(
        bench.rule,
        bench.view,
        bench.subject.id,
        state,
        because,
        missing,
        tuple(dict.fromkeys(evidence)),
        bench.first_place(),
        lookup.table.edition if lookup.table else bench.rule.edition,
        lookup.table.title(bench.rule.code) if lookup.table else "",
        lookup.confirmed,
        bench.view in bench.grounds.settled,
        bench.is_switched_off,
        bench.units(state),
        lookup.wanted,
    )
