"""One record as the desk reads it: parts, lines, each with its question and remarks."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any

from webapp.apart import apart
from webapp.catalogue.lookup import SETTLEMENTS
from webapp.catalogue.model import Field, Part
from webapp.catalogue.words import words
from webapp.record.case import Answer, Case, Row
from webapp.record.questions import Question, open_questions, places
from webapp.record.remarked import Remarked

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
    """One field of the page: its answer, its rows, its open question, its remarks."""

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
    remarks: tuple[Remarked, ...] = ()


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
    remarks: tuple[Remarked, ...] = ()

    @property
    def open_remarks(self) -> int:
        """Return how many remarks nobody answered yet."""
        return sum(remark.is_open for remark in self.remarks)

    @property
    def paths(self) -> frozenset[str]:
        """Return the paths that have a line of their own."""
        return frozenset(line.path for part in self.parts for line in part.lines)


def page(case: Case, remarks: tuple[Remarked, ...] = ()) -> Page:
    """Return the record as the desk shows it. `remarks`: heavier first."""
    questions = tuple(open_questions(case))
    beside = _Beside(questions, remarks)
    parts = tuple(_part(case, part, beside) for part in case.catalogue.parts)
    return Page(parts, questions, remarks)


class _Beside:
    """What stands beside a field: its first question, its remarks."""

    def __init__(
        self, questions: tuple[Question, ...], remarks: tuple[Remarked, ...]
    ) -> None:
        self._questions: dict[str, Question] = {}
        for question in questions:
            self._questions.setdefault(question.path, question)
        self._remarks: dict[str, tuple[Remarked, ...]] = {}
        for remark in remarks:
            self._remarks[remark.path] = (*self.remarks(remark.path), remark)
        self.open = Counter(question.part for question in questions)

    def question(self, path: str) -> Question | None:
        """Return the first open question of a path."""
        return self._questions.get(path)

    def remarks(self, path: str) -> tuple[Remarked, ...]:
        """Return the remarks that stand at a path, heavier first."""
        return self._remarks.get(path, ())


def _part(case: Case, part: Part, beside: _Beside) -> PagePart:
    lines: list[Line] = []
    blank: list[tuple[str, str]] = []
    for path, field, wire in places(case, part):
        answer = case.answer(path)
        rows = case.rows(path, struck=True) if field.kind == "group" else []
        is_told = answer.heads or rows or beside.question(path) or beside.remarks(path)
        if not is_told:
            if case.is_asked(field, wire.id if wire else None):
                blank.append((path, field.label))
            continue
        name = wire.name if wire and len(case.wires) > 1 else ""
        lines.append(_line(case, field, answer, rows, beside, name))
    open_here = beside.open[part.name]
    return PagePart(part.name, part.label, tuple(lines), tuple(blank), open_here)


def _line(
    case: Case,
    field: Field,
    answer: Answer,
    rows: list[Row],
    beside: _Beside,
    wire: str,
) -> Line:
    told, path = answer.words, answer.path
    question = beside.question(path)
    if field.kind == "group" and rows and not answer.heads:
        told = ""
    return Line(
        path,
        field.label,
        field.kind,
        answer.state,
        told,
        tuple(Option(words(field, v, beside=apart), v) for v in answer.heads),
        tuple(said(case, i) for i in answer.entries),
        tuple(_row(case, row) for row in rows),
        question,
        _options(field, question),
        wire,
        beside.remarks(path),
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
