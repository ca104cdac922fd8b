"""What keeps a code from being a candidate although its rule applies."""

from __future__ import annotations

import re
from dataclasses import replace

from webapp.coding.bench import Bench
from webapp.coding.conditions import leaves, paths_in
from webapp.coding.findings import Missing
from webapp.say import say

VALUE = re.compile(r"\{([a-z0-9_.]+)\}")


def may_apply(bench: Bench) -> bool:
    """Return whether a rule would apply if one of two answers stood alone."""
    paths = [path for c in bench.rule.applies for path in paths_in(c)]
    count = bench.grounds.most_heads(bench.subject, paths)
    heads = (
        bench.grounds.reader(bench.subject, bench.view, head) for head in range(count)
    )
    return count > 1 and any(bench.applies(read) for read in heads)


def lacking(bench: Bench) -> tuple[Missing, ...]:
    """Return what a rule that applies still needs, each thing named once.

    Two answers in any field the rule reads are something missing, whichever of them
    is right: until a person settles them, neither is read.
    """
    found: dict[str, Missing] = {}
    for one in (*_two_answers(bench), *_not_the_providers(bench), *_unmet(bench)):
        found.setdefault(one.words, one)
    return tuple(found.values())


def _two_answers(bench: Bench) -> tuple[Missing, ...]:
    paths = dict.fromkeys(p for c in bench.rule.conditions for p in paths_in(c))
    return tuple(_lacking(bench, (p,), "") for p in paths if bench.is_disputed(p))


def _unmet(bench: Bench) -> tuple[Missing, ...]:
    found: list[Missing] = []
    for need in bench.rule.needs:
        paths = tuple(paths_in(need.condition))
        is_named = any(bench.is_disputed(path) for path in paths)
        if not is_named and not bench.holds(need.condition):
            found.append(replace(_lacking(bench, paths, need.missing), ask=need.ask))
    return tuple(found)


def _lacking(bench: Bench, paths: tuple[str, ...], name: str) -> Missing:
    # What nothing in a record can answer is asked beside the fact it is about.
    places = tuple(bench.place(path) for path in paths) or (bench.first_place(),)
    words = _shown(bench, name) or bench.grounds.label(places[0])
    if any(bench.is_disputed(path) for path in paths):
        words = say("coding.missing.two_answers", what=words)
    return Missing(places, words)


def _shown(bench: Bench, name: str) -> str:
    """Return a name with the values it shows in place of their paths."""
    return VALUE.sub(lambda found: bench.words_at(found[1]), name)


def _not_the_providers(bench: Bench) -> tuple[Missing, ...]:
    """Return the facts that no operator or supervisor stated or confirmed."""
    if not bench.rule.provider:
        return ()
    needs = [need.condition for need in bench.rule.needs]
    found: list[Missing] = []
    for condition in (*bench.rule.applies, *needs):
        tests = [t for t in leaves(condition) if bench.holds(t)]
        ids = bench.evidence(tests)
        if ids and not any(map(bench.grounds.is_providers, ids)):
            place = bench.place(next(paths_in(tests[0])))
            what = bench.rule.states_what or bench.grounds.label(place)
            told = say("coding.missing.provider_to_state", what=what)
            found.append(Missing((place,), told, is_providers=True))
    return tuple(found)
