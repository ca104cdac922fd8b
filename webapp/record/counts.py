"""How many questions are open, without making them: a list asks it of every record.

Held to `open_questions` by tests/server/record/test_questions.py.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from webapp.catalogue.lookup import Catalogue
from webapp.catalogue.when import compiled_once, paths_read
from webapp.record.case import WIRES, Case, Wire
from webapp.record.derived import BIRTH, ESTIMATE
from webapp.record.questions import AFTERWARDS, Place, is_asked, plan, told_at

_NOTHING: dict[str, Any] = {"values": [], "ids": [], "rows": []}
_Told = tuple[Place, str, Wire | None]


@dataclass(frozen=True, slots=True)
class Counts:
    """How many questions are open, and how many of them are two answers."""

    open: int
    two_answers: int


@dataclass(frozen=True, slots=True)
class _Group:
    """Fields of one part under one condition. `place`: any of them.

    `paths`: what the condition reads, by catalogue path; `is_asked_blank`: whether it
    holds while nothing stands under any of them.
    """

    place: Place
    count: int
    paths: frozenset[str]
    is_asked_blank: bool


def counts(case: Case) -> Counts:
    """Count what `open_questions` returns, without making it.

    Blank fields under one condition are counted together, then those that are not
    blank are looked at one by one.
    """
    told = _told_places(case)
    unbegun = set(AFTERWARDS).difference(_begun(case, told))
    blank = _blank(case, unbegun)
    two = found = 0
    for place, path, wire in told:
        is_begun = place.part not in unbegun
        if is_begun and place.need:
            blank -= is_asked(case, place, wire.id if wire else None)
        if not _is_plain(case, path):
            questions = told_at(case, place, path, wire, is_begun)
            found += len(questions)
            two += sum(question.why == "two_answers" for question in questions)
    return Counts(blank + found, two)


def _blank(case: Case, unbegun: Collection[str]) -> int:
    """Return how many fields would be open if nothing had been answered."""
    wires = tuple(wire.id for wire in case.wires)
    told = {_catalogue_path(path) for path in case.told_paths}
    found = 0
    for group in _groups(case.catalogue):
        if group.place.part in unbegun:
            continue
        within = wires if group.place.repeats and wires else (None,)
        # Most conditions read nothing that this record holds.
        if group.paths.isdisjoint(told):
            found += group.count * group.is_asked_blank * len(within)
        else:
            asked = sum(is_asked(case, group.place, wire) for wire in within)
            found += group.count * asked
    return found


def _catalogue_path(path: str) -> str:
    """Return a path of a wire without its wire, as conditions write it."""
    return path.split("/", 2)[-1] if path.startswith(f"{WIRES}/") else path


def _is_plain(case: Case, path: str) -> bool:
    """Return whether one sound answer stands here, or sound rows only: nothing open."""
    heads = case.fold["values"].get(path)
    if heads is None:
        rows = case.fold["rows"][path]
        return all(r["id"] in case.sound and r["struck"] is None for r in rows)
    if len(heads) != 1 or heads[0]["entries"][0] not in case.sound:
        return False
    value = heads[0]["value"]
    return not (isinstance(value, dict) and "absent" in value)


@lru_cache(maxsize=4)
def _groups(catalogue: Catalogue) -> tuple[_Group, ...]:
    grouped: dict[tuple[str, bool, int], list[Place]] = defaultdict(list)
    for _, static in plan(catalogue):
        for place in static:
            if place.need:
                condition = id(place.field.asked_when)
                grouped[place.part, place.repeats, condition].append(place)
    return tuple(_group(places) for places in grouped.values())


def _group(places: list[Place]) -> _Group:
    place, condition = places[0], places[0].field.asked_when
    if condition is None:
        return _Group(place, len(places), frozenset(), True)
    is_asked_blank = compiled_once(condition)(lambda _: _NOTHING)
    return _Group(place, len(places), frozenset(_read(condition)), is_asked_blank)


def _read(condition: dict[str, object]) -> Iterator[str]:
    """Yield the paths that a condition's answer rests on."""
    for path in paths_read(condition):
        yield from (BIRTH, ESTIMATE) if path.startswith("derived.") else (path,)


def _told_places(case: Case) -> list[_Told]:
    """Return the places under which anything stands, with path and wire."""
    by_path = _by_path(case.catalogue)
    wires = {wire.id: wire for wire in case.wires}
    found: list[_Told] = []
    for path in case.told_paths:
        own, wire = path, None
        if path.startswith(f"{WIRES}/"):
            _, wire_id, own = (*path.split("/", 2), "")[:3]
            wire = wires.get(wire_id)
            if wire is None or not own:
                continue
        place = by_path.get(own)
        if place is not None and (place.repeats and bool(wires)) == (wire is not None):
            found.append((place, path, wire))
    return found


@lru_cache(maxsize=4)
def _by_path(catalogue: Catalogue) -> dict[str, Place]:
    return {place.path: place for _, static in plan(catalogue) for place in static}


def _begun(case: Case, told: list[_Told]) -> Iterator[str]:
    """Yield the later parts in which anything stands that is not struck."""
    for place, path, _ in told:
        is_later = place.part in AFTERWARDS
        if is_later and (case.fold["values"].get(path) or case.rows(path)):
            yield place.part
