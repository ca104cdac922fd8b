"""What keeps a code from being a candidate although its rule applies."""

from __future__ import annotations

from dataclasses import replace

from webapp.coding.bench import Bench
from webapp.coding.conditions import leaves, paths_in
from webapp.coding.findings import Missing
from webapp.say import say


def disputed(bench: Bench) -> tuple[Missing, ...]:
    """Return the two answers that keep a rule from applying, where one would do."""
    paths = [path for c in bench.rule.applies for path in paths_in(c)]
    count = bench.grounds.most_heads(bench.subject, paths)
    if count < 2 or bench.applies():
        return ()
    heads = (
        bench.grounds.reader(bench.subject, bench.view, head) for head in range(count)
    )
    if not any(bench.applies(read) for read in heads):
        return ()
    return tuple(_lacking(bench, (p,), "") for p in paths if bench.is_disputed(p))


def lacking(bench: Bench) -> tuple[Missing, ...]:
    """Return what a rule that applies still needs, each thing named once."""
    found: dict[str, Missing] = {}
    for one in (*disputed(bench), *_not_the_providers(bench), *_unmet(bench)):
        found.setdefault(one.words, one)
    return tuple(found.values())


def _unmet(bench: Bench) -> tuple[Missing, ...]:
    return tuple(
        replace(
            _lacking(bench, tuple(paths_in(need.condition)), need.missing), ask=need.ask
        )
        for need in bench.rule.needs
        if not bench.holds(need.condition)
    )


def _lacking(bench: Bench, paths: tuple[str, ...], name: str) -> Missing:
    # What nothing in a record can answer is asked beside the fact it is about.
    places = tuple(bench.place(path) for path in paths) or (bench.first_place(),)
    words = name or bench.grounds.label(places[0])
    if any(bench.is_disputed(path) for path in paths):
        words = say("coding.missing.two_answers", what=words)
    return Missing(places, words)


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
