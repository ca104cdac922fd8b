"""Remarks on paper: what was found, what policy asks, what it rests on, the answer.

Of weight Look now and Look again; what only fits, page 1 says where it says a number.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from webapp.note.blocks import Block, Heading, Prose, Weighed
from webapp.note.sources import Sources
from webapp.record.remark_times import as_at_words
from webapp.record.remarked import Given, Remarked, answer_words
from webapp.say import say

FIRST_SHOWN = 3


@dataclass(frozen=True, slots=True)
class FirstRemarks:
    """What page 1 says of remarks: weight and words of the heaviest not answered."""

    lines: tuple[tuple[str, str], ...]
    more: int


def remark_blocks(sources: Sources) -> list[Block]:
    """Return the section with every remark of weight Look now and Look again."""
    heavier = [r for r in sources.remarks if r.asks_answer]
    head = say(
        "note.remarks_head" if heavier else "note.remarks_none",
        version=sources.policy.version,
        decides=say("caution.decides"),
    )
    told = [_weighed(sources, remark) for remark in heavier]
    return [Heading(say("note.remarks"), 1), Prose(head, quiet=True), *told]


def first_remarks(sources: Sources) -> FirstRemarks:
    """Return the three heaviest that stand and nobody answered, and how many more."""
    left = [r for r in sources.remarks if r.is_open]
    lines = tuple((r.weight, _first_line(r)) for r in left[:FIRST_SHOWN])
    return FirstRemarks(lines, len(left) - len(lines))


def answers_told(sources: Sources) -> frozenset[str]:
    """Return the entry ids of the answers that stand with their remarks."""
    heavier = (r for r in sources.remarks if r.asks_answer)
    return frozenset(given.entry for r in heavier for given in r.given)


def _weighed(sources: Sources, remark: Remarked) -> Weighed:
    told = [words for words in (remark.more, remark.asks) if words]
    if not remark.stands:
        told.append(say("note.remark_put_right"))
    told += [_answer(sources, given) for given in remark.given]
    if remark.is_open:
        told.append(say("note.remark_not_answered"))
    place = f"{remark.place}." if remark.place else ""
    when = as_at_words(remark.as_at, sources.day)
    told_by = (place, when, _rests(sources, remark), remark.limits)
    source = " ".join(words for words in told_by if words)
    return Weighed(remark.weight, _line(remark), tuple(told), source)


def _rests(sources: Sources, remark: Remarked) -> str:
    """Return which entries it rests on, by their numbers in the note."""
    told = [sources.places[i] for i in remark.found.evidence if i in sources.places]
    if not told:
        return ""
    key = "note.remark_rests" if len(told) > 1 else "note.remark_rests_one"
    return say(key, places=entry_places(told))


def _line(remark: Remarked) -> str:
    return say("note.remark_line", word=remark.word, finding=remark.finding)


def _first_line(remark: Remarked) -> str:
    """Return a remark in one line, with its wire where there are several."""
    line = _line(remark)
    return (
        say("note.remark_of_wire", line=line, wire=remark.wire) if remark.wire else line
    )


def _answer(sources: Sources, given: Given) -> str:
    return say(
        "note.remark_answer",
        answer=answer_words(given),
        who=sources.entered_by_name(given.entry),
        n=sources.places[given.entry],
    )


def entry_places(places: Iterable[int]) -> str:
    """Return numbers of entries, neighbours together: "3, 5 to 8, 12"."""
    runs = groupby(enumerate(sorted(places)), key=lambda pair: pair[1] - pair[0])
    told = []
    for _, run in runs:
        numbers = [number for _, number in run]
        first, last = numbers[0], numbers[-1]
        if last - first > 1:
            told.append(say("note.entries_run", first=first, last=last))
        else:
            told += [str(number) for number in numbers]
    return ", ".join(told)
