"""The coded part of the note: diagnoses as stated, the procedure as done, what is
separately evidenced, what is not recorded. No claim number, no unit, no rule."""

from __future__ import annotations

from collections.abc import Iterator

from webapp.catalogue.when import holds
from webapp.catalogue.words import words
from webapp.coding.conditions import leaves, paths_in
from webapp.coding.dates import Span, local
from webapp.coding.findings import Finding, unconfirmed_words
from webapp.coding.grounds import ROW
from webapp.coding.margin import row_words
from webapp.coding.rules import DIAGNOSES
from webapp.coding.sheet import Judge, Sheet
from webapp.coding.stay import STATUS
from webapp.coding.worked_out import HOME
from webapp.note.model import CodeFact
from webapp.record.case import Case, Row
from webapp.say import say

NOTE_VIEW = "professional"
PER_WIRE = ("approach.wire_came", "approach.chamber", "approach.site")
PACING = ("capture.pacing_start", "capture.pacing_stop")
WHOLE = ("finish.outcome", "approach.first_puncture", "finish.dressing_on")
CRITICAL_CARE = "finish.critical_care"
SEPARATE = {
    "approach.other_line": ("kind", "site", "purpose", "tip_in", "tip", "operator"),
    "approach.ultrasound_report": ("author", "reported_at", "reference"),
    "finish.separate_report": ("what", "author", "reported_at", "reference"),
    "finish.rescue": ("what", "side", "operator", "moment", "reference"),
    CRITICAL_CARE: ("person", "organ", "start", "stop"),
}


def facts_of(judge: Judge, case: Case) -> tuple[CodeFact, ...]:
    """Return the facts in their four blocks, as the signer of `case` would sign it.

    An entry of somebody else counts as confirmed: the signature below the note is
    the confirmation, and without one the note says on every page that it has none.
    """
    sheet = judge.every_rule().sheet(case, case.fold["order"])
    return (
        *_diagnoses(sheet),
        *_procedure(case),
        *_separate(case),
        *_not_recorded(sheet),
    )


def head_of(judge: Judge, case: Case) -> tuple[str, ...]:
    """Return the first line: date of service, status at that time, edition."""
    sheet = judge.sheet(case)
    return (
        say("coding.head.date", day=_day_words(sheet.span)),
        say("coding.head.status", status=case.words(STATUS)),
        say("coding.head.edition", edition=_edition(judge, sheet)),
    )


def _diagnoses(sheet: Sheet) -> Iterator[CodeFact]:
    for finding in sheet.of_view(NOTE_VIEW):
        is_offered = finding.state != "not_offered"
        is_stated = finding.rule.provider and not _waits_for_provider(finding)
        if finding.rule.system == DIAGNOSES and is_offered and is_stated:
            yield CodeFact(
                "diagnosis",
                _with_missing(_stated(sheet.case, finding), finding),
                finding.rule.code,
                finding.edition,
                finding.confirmed,
                _stated_by(sheet.case, finding),
                finding.evidence,
            )


def _waits_for_provider(finding: Finding) -> bool:
    return any(one.is_providers for one in finding.missing)


def _with_missing(stated: str, finding: Finding) -> str:
    named = "; ".join(one.words for one in finding.missing if not one.is_coders)
    return (
        say("coding.stated_missing", stated=stated, missing=named) if named else stated
    )


def _stated(case: Case, finding: Finding) -> str:
    """Return the provider's words: the answers that made the rule apply."""
    row = _row(case, finding)
    told: list[str] = []
    for test in (leaf for c in finding.rule.applies for leaf in leaves(c)):
        path = next(paths_in(test))
        if path.startswith(ROW) and row is not None:
            told.append(row.words(path.removeprefix(ROW)))
        elif path in HOME:
            told += _of_rows(case, finding, HOME[path])
        else:
            held, ids = holds(test, case.reader())
            if held:
                told += _matched(case, path, test, ids)
    return ", ".join(dict.fromkeys(text for text in told if text))


def _row(case: Case, finding: Finding) -> Row | None:
    rows = case.rows(finding.rule.for_each) if finding.rule.for_each else []
    return next((row for row in rows if row.id == finding.subject), None)


def _of_rows(case: Case, finding: Finding, path: str) -> list[str]:
    """Return the rows that a worked-out value came of, each as the note tells it."""
    rows = case.rows(path)
    own = [row for row in rows if row.id in finding.evidence] or rows
    return [row_words(row, row.field) for row in own if row.field is not None]


def _matched(
    case: Case, path: str, test: dict[str, object], ids: list[str]
) -> list[str]:
    """Return only those of several answers, or rows, that the test was about."""
    if "rows" in test:
        own_rows = [row for row in case.rows(path) if row.id in ids and row.field]
        return [row.words(row.field.children[0].name) for row in own_rows if row.field]
    answer = case.answer(path)
    wanted = test.get("in") or [test.get("is")]
    if answer.field is None or not isinstance(answer.value, list):
        return [answer.words]
    own = [v for v in answer.value if isinstance(wanted, list) and v in wanted]
    return [words(answer.field, [value]) for value in own]


def _stated_by(case: Case, finding: Finding) -> str:
    if not finding.evidence:
        return ""
    meta = case.meta(finding.evidence[0])
    person = meta["called_by"] or meta["author"]
    return str(person.get("name", ""))


def _procedure(case: Case) -> Iterator[CodeFact]:
    for wire in case.wires:
        paths = [case.wire_path(wire, path) for path in PER_WIRE]
        told = ", ".join(_named(case, path) for path in paths)
        yield CodeFact(
            "procedure",
            say("coding.fact.wire", wire=wire.name, told=told),
            evidence=_entries(case, paths),
        )
        yield from _told(case, [case.wire_path(wire, path) for path in PACING])
    yield from _told(case, list(WHOLE))
    operators = [r for r in case.rows("patient.people") if r.get("role") == "operator"]
    for row in operators:
        told = row.words("person")
        yield CodeFact(
            "procedure", say("coding.fact.operator", person=told), evidence=(row.id,)
        )


def _named(case: Case, path: str) -> str:
    """Return an answer's words; what is not answered says what it is about."""
    answer = case.answer(path)
    label = answer.field.label.lower() if answer.field else path
    return answer.words if answer.is_answered else f"{label} {answer.words}"


def _told(case: Case, paths: list[str]) -> Iterator[CodeFact]:
    for path in paths:
        answer = case.answer(path)
        if answer.heads and answer.field is not None:
            told = f"{answer.field.label}: {answer.words}"
            yield CodeFact("procedure", told, evidence=answer.entries)


def _entries(case: Case, paths: list[str]) -> tuple[str, ...]:
    return tuple(i for path in paths for i in case.answer(path).entries)


def _separate(case: Case) -> Iterator[CodeFact]:
    for path, children in SEPARATE.items():
        for row in case.rows(path):
            told = ", ".join(t for t in (row.words(c) for c in children) if t)
            if path == CRITICAL_CARE:
                told += _minutes(row)
            label = row.field.label if row.field else path
            yield CodeFact("separate", f"{label}: {told}", evidence=(row.id,))


def _minutes(row: Row) -> str:
    """Return a span's whole minutes, "" where it has no two hours in order."""
    start, stop = local(row.get("start"), "UTC"), local(row.get("stop"), "UTC")
    if start is None or stop is None or stop < start:
        return ""
    return say("coding.fact.minutes", n=int((stop - start).total_seconds() // 60))


def _not_recorded(sheet: Sheet) -> Iterator[CodeFact]:
    """Yield each thing some rule misses, once, in field words."""
    named: dict[str, None] = {}
    for view in sheet.views:
        for finding in sheet.lines_of(view):
            for one in finding.missing:
                if not one.is_coders:
                    named.setdefault(one.words)
    for text in named:
        yield CodeFact("not_recorded", text)


def _day_words(span: Span) -> str:
    if span.day is None:
        return say("coding.head.no_day")
    return f"{span.day.day} {span.day:%b %Y}"


def _edition(judge: Judge, sheet: Sheet) -> str:
    lookup = judge.tables.look_up(DIAGNOSES, sheet.span.day)
    if lookup.table is None:
        return say("coding.head.no_edition")
    told = lookup.table.edition
    if not lookup.confirmed:
        is_settled = sheet.span.day is not None
        told = unconfirmed_words(told, lookup.wanted, is_settled)
    return f"{DIAGNOSES} {told}"
