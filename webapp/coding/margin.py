"""The signed note with codes in its margin: facts in order, flags beside them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from webapp.apart import apart
from webapp.catalogue.model import Field, Part
from webapp.coding.findings import Finding
from webapp.coding.rules import LINE_SYSTEMS, PLACE_OF_SERVICE
from webapp.coding.sheet import Sheet, is_procedure
from webapp.record.case import Case, Row
from webapp.record.questions import places
from webapp.say import say

Kind = Literal["full", "part", "not"]
KINDS: dict[str, Kind] = {"candidate": "full", "missing": "part", "not_offered": "not"}
# What a coder reads of a record beside what the codes rest on.
NEEDS_READ = frozenset("C")
# Said at the head of the page already.
AT_THE_HEAD = frozenset(
    (
        "patient.record_number",
        "patient.encounter_number",
        "patient.status",
    )
)


@dataclass(frozen=True, slots=True)
class Fact:
    """One field as recorded. `state`: as in the case; `entries`: who said it.

    `is_read`: a code of this view rests on it, or hangs beside it.
    """

    path: str
    label: str
    words: str
    state: str
    entries: tuple[str, ...]
    is_read: bool


@dataclass(frozen=True, slots=True)
class Flag:
    """One finding in the margin; `number` counts the flags of the page from 1."""

    number: int
    kind: Kind
    finding: Finding
    under: str


@dataclass(frozen=True, slots=True)
class Strip:
    """Facts that read on, and the flags that hang beside them."""

    facts: tuple[Fact, ...]
    flags: tuple[Flag, ...]


@dataclass(frozen=True, slots=True)
class MarginPart:
    """One part of the note with its margin."""

    name: str
    label: str
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Margin:
    """A whole note in one view. `folded`: findings of rules still to be checked."""

    parts: tuple[MarginPart, ...]
    flags: tuple[Flag, ...]
    not_recorded: tuple[str, ...]
    folded: tuple[Finding, ...]


def margin_of(sheet: Sheet, view: str) -> Margin:
    """Return the note with the flags of one view."""
    findings = tuple(f for f in sheet.of_view(view) if not _is_settled_place(f))
    folded = tuple(f for f in findings if is_to_be_checked(f))
    by_place = _flags([f for f in findings if f not in folded])
    read = {entry for finding in findings for entry in finding.evidence}
    numbered: list[Flag] = []
    parts: list[MarginPart] = []
    for part in sheet.case.catalogue.parts:
        facts = list(_facts(sheet.case, part, read, by_place))
        strips = tuple(_strips(facts, by_place, numbered))
        if strips:
            parts.append(MarginPart(part.name, part.label, strips))
    missing = [m.words for flag in numbered for m in flag.finding.missing]
    return Margin(tuple(parts), tuple(numbered), tuple(dict.fromkeys(missing)), folded)


def going_out(margin: Margin) -> tuple[Flag, ...]:
    """Return the flags whose codes would go out: diagnoses first, in note order."""
    lines = (f for f in margin.flags if f.finding.rule.system in LINE_SYSTEMS)
    offered = (flag for flag in lines if flag.kind != "not")
    return tuple(sorted(offered, key=lambda flag: is_procedure(flag.finding)))


def is_to_be_checked(finding: Finding) -> bool:
    """Return whether only a named coder's word keeps this from being judged."""
    return finding.because == say("coding.because.to_be_checked")


def _is_settled_place(finding: Finding) -> bool:
    """Return whether this is a place of service that is no question: it is told above.

    The status it follows from stands at the head of the page, and the place with it.
    """
    is_place = finding.rule.system == PLACE_OF_SERVICE
    return is_place and finding.state != "missing"


def _flags(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.place, []).append(finding)
    return found


def _strips(
    facts: list[Fact], by_place: dict[str, list[Finding]], numbered: list[Flag]
) -> Iterator[Strip]:
    """Yield strips: each begins at a fact with flags, the facts after it read on."""
    held: list[Fact] = []
    flags: list[Flag] = []
    hung: set[str] = set()
    for fact in facts:
        findings = [] if fact.path in hung else _hanging(fact.path, by_place)
        if findings:
            if held:
                yield Strip(tuple(held), tuple(flags))
            hung.add(fact.path)
            first = len(numbered) + 1
            held, flags = [], [_flag(n, f) for n, f in enumerate(findings, first)]
            numbered += flags
        held.append(fact)
    if held:
        yield Strip(tuple(held), tuple(flags))


def _hanging(path: str, by_place: dict[str, list[Finding]]) -> list[Finding]:
    """Return the findings that hang beside a field, or beside a child of its rows."""
    return [
        finding
        for place, findings in by_place.items()
        if place == path or place.startswith(f"{path}.")
        for finding in findings
    ]


def _flag(number: int, finding: Finding) -> Flag:
    under = finding.because
    if finding.state == "missing":
        under = "; ".join(one.words for one in finding.missing)
    return Flag(number, KINDS[finding.state], finding, under)


def _facts(
    case: Case, part: Part, read: set[str], by_place: dict[str, list[Finding]]
) -> Iterator[Fact]:
    for path, field, wire in places(case, part):
        label = field.label
        if wire is not None and len(case.wires) > 1:
            label = f"{wire.name}: {label}"
        hangs = bool(_hanging(path, by_place))
        is_needed = hangs or bool(NEEDS_READ & set(field.needs))
        if path in AT_THE_HEAD and not hangs:
            continue
        rows = case.rows(path) if field.kind == "group" else []
        for row in rows:
            if is_needed or row.id in read:
                told = row_words(row, field, apart)
                is_read = hangs or row.id in read
                yield Fact(path, label, told, "answered", (row.id,), is_read)
        answer = case.answer(path)
        is_read = hangs or bool(read & set(answer.entries))
        is_told = bool(answer.heads) and (is_needed or is_read)
        if is_told or (hangs and not rows):
            told, entries = answer.words, answer.entries
            yield Fact(path, label, told, answer.state, entries, is_read)


def row_words(row: Row, field: Field, beside: Callable[[str], str] = str) -> str:
    """Return a row in words: its first child bare, the others with their labels.

    `beside`: as in `webapp.catalogue.words.words`.
    """
    children = [child for child in field.children if child.name in row.value]
    said = [(child.label, beside(row.words(child.name))) for child in children]
    bare = [words for _, words in said[:1]]
    return "; ".join([*bare, *(f"{label}: {words}" for label, words in said[1:])])
