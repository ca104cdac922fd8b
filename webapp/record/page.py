"""One record as the desk reads it: parts, sections, lines, each with its question."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.catalogue.lookup import SETTLEMENTS
from webapp.catalogue.model import Field, Part
from webapp.catalogue.words import words
from webapp.record.case import Answer, Case, Row
from webapp.record.questions import Question, open_questions, places

# So many choices still stand beside the field; more are answered on their own page.
INLINE_CHOICES = 5


@dataclass(frozen=True, slots=True)
class Said:
    """Who said something, entered by whom, when (UTC text), how sure of the person.

    `entry`: its id; `because`: the reason given at the desk, "" for none.
    """

    author: str
    role: str
    entered_by: str
    utc: str
    how: str
    entry: str = ""
    because: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """A key beside a field: `value` is the JSON value it writes."""

    label: str
    value: Any


@dataclass(frozen=True, slots=True)
class RowLine:
    """One row of a group. `cells`: (label, text); `struck`: reason or None."""

    id: str
    cells: tuple[tuple[str, str], ...]
    said: Said
    struck: str | None
    struck_by: str | None
    of: str


@dataclass(frozen=True, slots=True)
class Line:
    """One field of the page with its answer, its rows and its open question."""

    path: str
    label: str
    kind: str
    state: str
    words: str
    heads: tuple[Option, ...]
    said: tuple[Said, ...]
    rows: tuple[RowLine, ...]
    question: Question | None
    options: tuple[Option, ...]
    wire: str


@dataclass(frozen=True, slots=True)
class PagePart:
    """One part; `blank`: labels of fields nobody asked and nothing needs."""

    name: str
    label: str
    lines: tuple[Line, ...]
    blank: tuple[tuple[str, str], ...]
    open: int


@dataclass(frozen=True, slots=True)
class Page:
    """A whole record, top to bottom."""

    parts: tuple[PagePart, ...]
    questions: tuple[Question, ...]


def page(case: Case) -> Page:
    """Return the record as the desk shows it."""
    questions = tuple(open_questions(case))
    by_path: dict[str, Question] = {}
    for question in questions:
        by_path.setdefault(question.path, question)
    parts = tuple(
        _part(case, part, by_path, [q for q in questions if q.part == part.name])
        for part in case.catalogue.parts
    )
    return Page(parts, questions)


def _part(
    case: Case, part: Part, by_path: dict[str, Question], own: list[Question]
) -> PagePart:
    lines: list[Line] = []
    blank: list[tuple[str, str]] = []
    for path, field, wire in places(case, part):
        answer = case.answer(path)
        rows = case.rows(path, struck=True) if field.kind == "group" else []
        question = by_path.get(path)
        if not answer.heads and not rows and question is None:
            if case.is_asked(field, wire.id if wire else None):
                blank.append((path, field.label))
            continue
        name = wire.name if wire and len(case.wires) > 1 else ""
        lines.append(_line(case, path, field, answer, rows, question, name))
    return PagePart(part.name, part.label, tuple(lines), tuple(blank), len(own))


def _line(
    case: Case,
    path: str,
    field: Field,
    answer: Answer,
    rows: list[Row],
    question: Question | None,
    wire: str,
) -> Line:
    told = answer.words
    if field.kind == "group" and rows and not answer.heads:
        told = ""
    return Line(
        path,
        field.label,
        field.kind,
        answer.state,
        told,
        tuple(Option(words(field, v), v) for v in answer.heads),
        tuple(said(case, i) for i in answer.entries),
        tuple(_row(case, row) for row in rows),
        question,
        _options(field, question),
        wire,
    )


def said(case: Case, entry_id: str) -> Said:
    """Return who stands behind an entry."""
    meta = case.meta(entry_id)
    return Said(
        meta["author"].get("name", ""),
        meta["author"].get("role", ""),
        meta["entered_by"].get("name", ""),
        meta["at"]["utc"],
        meta["how"],
        entry_id,
        reasons(case).get(entry_id, ""),
    )


def reasons(case: Case) -> dict[str, str]:
    """Return why answers were corrected or settled at the desk, by entry id."""
    rows = case.rows(SETTLEMENTS)
    return {str(r.get("entries") or ""): r.words("because") for r in rows}


def _row(case: Case, row: Row) -> RowLine:
    children = row.field.children if row.field else ()
    cells = tuple(
        (child.label, row.words(child.name))
        for child in children
        if child.name in row.value
    )
    struck = row.struck
    by = said(case, struck["by"]).author if struck else None
    reason = (struck.get("reason") or "") if struck else None
    of = row.value.get("of")
    return RowLine(
        row.id, cells, said(case, row.id), reason, by, of if isinstance(of, str) else ""
    )


def _options(field: Field, question: Question | None) -> tuple[Option, ...]:
    """Return the keys an open question is answered with on the spot."""
    if question is None or question.why == "impossible":
        return ()
    not_known = Option("not known", {"absent": "not_known"})
    if field.kind == "yn":
        return (Option("yes", "yes"), Option("no", "no"), not_known)
    plain = [c for c in field.choices if not c.takes_text]
    if field.kind == "one" and len(field.choices) <= INLINE_CHOICES:
        return (*(Option(c.label, c.code) for c in plain), not_known)
    return (not_known,)
