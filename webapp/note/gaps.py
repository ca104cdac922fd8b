"""What the note must not hide: double answers, impossible values, what is missing."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.catalogue.words import words
from webapp.note.sources import Sources
from webapp.record.case import Case, Wire
from webapp.record.questions import Question, open_questions, places
from webapp.say import say

ALSO_LISTED = frozenset(("C", "H"))


@dataclass(frozen=True, slots=True)
class Gaps:
    """`double` and `impossible` are sentences; `missing` labels, by part in order."""

    double: tuple[str, ...]
    impossible: tuple[str, ...]
    missing: tuple[tuple[str, tuple[str, ...]], ...]
    also_missing: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def count(self) -> int:
        """Return how many needed answers the record does not hold."""
        return sum(len(labels) for _, labels in self.missing)


def gaps(sources: Sources) -> Gaps:
    """Return everything a reader could take for complete and is not.

    `missing`: needed before signing; `also_missing`: wanted by codes or handover
    only. A field whose condition does not hold is not missing.
    """
    case, day = sources.case, sources.day
    open_now = open_questions(case)
    needed = [q for q in open_now if q.why == "not_asked"]
    return Gaps(
        tuple(_double(sources, q) for q in open_now if q.why == "two_answers"),
        tuple(_impossible(case, q, day) for q in open_now if q.why == "impossible"),
        _by_part(case, [(q.part, q.label) for q in needed]),
        _by_part(case, _also(case, {q.path for q in needed})),
    )


def _double(sources: Sources, question: Question) -> str:
    case, day = sources.case, sources.day
    answer = case.answer(question.path)
    field = answer.field
    said = []
    for head in case.fold["values"][question.path]:
        who = sources.entered_by_name(head["entries"][0])
        value = words(field, head["value"], day) if field else str(head["value"])
        said.append(say("note.said_by", value=value, who=who))
    label = question.label
    return say("words.row_child", label=label, words=say("note.or").join(said))


def _impossible(case: Case, question: Question, day: str) -> str:
    answer = case.answer(question.path)
    if answer.state == "impossible" and answer.field:
        value = words(answer.field, answer.value, day)
    else:
        value = _in_row(case, question, day)
    return say("words.row_child", label=question.label, words=value)


def _in_row(case: Case, question: Question, day: str) -> str:
    for row in case.rows(question.path):
        if row.id not in question.entries or row.field is None:
            continue
        for child in row.field.children:
            if question.label.endswith(child.label) and child.name in row.value:
                return words(child, row.value[child.name], day)
    return ""


def _also(case: Case, already: set[str]) -> list[tuple[str, str]]:
    found = []
    for part in case.catalogue.parts:
        for path, field, wire in places(case, part):
            if path in already or not ALSO_LISTED & set(field.needs):
                continue
            answer = case.answer(path)
            if answer.heads or case.rows(path):
                continue
            if case.is_asked(field, wire.id if wire else None) and _is_due(
                case, part.name
            ):
                found.append((part.name, _label(case, field.label, wire)))
    return found


def _label(case: Case, label: str, wire: Wire | None) -> str:
    return f"{label}, {wire.name}" if wire and len(case.wires) > 1 else label


def _is_due(case: Case, part: str) -> bool:
    """Return whether a part's blanks count: the later parts only once begun."""
    if part not in ("handover", "checks", "removal"):
        return True
    found = case.catalogue.part(part)
    return any(
        case.answer(path).heads or case.rows(path) for path, _, _ in places(case, found)
    )


def _by_part(
    case: Case, found: list[tuple[str, str]]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Group labels under their part's name, parts in the catalogue's order."""
    grouped = []
    for part in case.catalogue.parts:
        labels = tuple(label for name, label in found if name == part.name)
        if labels:
            grouped.append((part.label, labels))
    return tuple(grouped)
