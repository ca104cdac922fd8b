"""Who made the entries: at which log, entered by whom, called out by whom."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from webapp.note.blocks import Block, Heading, Line, Prose, Said
from webapp.note.casewords import SEPARATOR
from webapp.note.model import NoteInput
from webapp.note.sources import Sources
from webapp.note.times import clock_words, day_words, entry_time, name_of
from webapp.say import say

SKEW_SAID_MS = 120_000


def authorship_blocks(note: NoteInput, sources: Sources) -> list[Block]:
    """Return one line for each person who entered, and for each writer's clock."""
    entries = sources.case.fold["entries"]
    order = sources.case.fold["order"]
    if not order:
        return []
    metas = [entries[i] for i in order]
    people = [
        Line(_who(enterer), (Said(_said(own, caller)),))
        for (enterer, caller), own in _grouped(metas)
    ]
    blocks: list[Block] = [Heading(say("note.authorship"), 1), *people]
    clocks = list(_clocks(metas))
    return [*blocks, *clocks, Prose(say("note.authorship_words"), quiet=True)]


def people_blocks(sources: Sources) -> list[Block]:
    """Return whose initials stand at the lines that follow; nothing for nobody."""
    if not sources.initials:
        return []
    pairs = [f"{short} {name}" for name, short in sources.initials.items()]
    words = say("note.initials", people=SEPARATOR.join(pairs))
    return [Prose(words, quiet=True)]


def _grouped(
    metas: list[dict[str, Any]],
) -> Iterator[tuple[tuple[tuple[str, str], str], list[dict[str, Any]]]]:
    groups: dict[tuple[tuple[str, str], str], list[dict[str, Any]]] = {}
    for meta in metas:
        enterer = (name_of(meta["entered_by"]), _role(meta["entered_by"]))
        groups.setdefault((enterer, name_of(meta["called_by"])), []).append(meta)
    yield from groups.items()


def _role(person: Any) -> str:
    return str(person.get("role", "")) if isinstance(person, dict) else ""


def _who(enterer: tuple[str, str]) -> str:
    name, role = enterer
    name = name or say("note.nobody_named")
    return say("words.person_role", name=name, role=role) if role else name


def _said(metas: list[dict[str, Any]], caller: str) -> str:
    times = [t for t in map(entry_time, metas) if t is not None]
    span = say("note.no_time")
    if times:
        first, last = times[0], times[-1]
        end = clock_words(last)
        if last.date() != first.date():
            end = f"{day_words(last)} {end}"
        span = say("note.span", day=day_words(first), start=clock_words(first), end=end)
    hows = sorted({str(m["how"]) for m in metas})
    proof = ", ".join(say(f"note.how.{how}") for how in hows)
    key = "note.entered_called" if caller else "note.entered"
    return say(key, n=len(metas), span=span, caller=caller, proof=proof)


def _clocks(metas: list[dict[str, Any]]) -> Iterator[Block]:
    """Say which writer's clock was so far off that its times were corrected."""
    worst: dict[str, int] = {}
    for meta in metas:
        skew = meta["at"].get("skew_ms")
        if type(skew) is int and abs(skew) > abs(worst.get(meta["log"], 0)):
            worst[meta["log"]] = skew
    for log, skew in sorted(worst.items()):
        if abs(skew) >= SKEW_SAID_MS:
            minutes = timedelta(milliseconds=abs(skew)) // timedelta(minutes=1)
            key = "note.clock_ahead" if skew > 0 else "note.clock_behind"
            yield Line(say("note.clock"), (Said(say(key, n=minutes, log=log[:8])),))
