"""What stands around the margin: the head of the page, and why each flag stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.apart import apart
from webapp.catalogue import CATALOGUE
from webapp.catalogue.words import words
from webapp.coding.findings import Finding
from webapp.coding.margin import Flag, Margin, row_words
from webapp.coding.questions import Question
from webapp.coding.rules import Rule
from webapp.coding.sheet import Judge, Sheet
from webapp.coding.stay import STATUS
from webapp.record.case import Case
from webapp.record.open_record import OpenRecord
from webapp.record.signed import Signed
from webapp.record.who import who_words
from webapp.say import say, say_apart

OTHER_LINE = "approach.other_line"


@dataclass(frozen=True, slots=True)
class Heading:
    """The strip: who, by whom signed, status then, wires, other lines."""

    short: str
    who: str
    number: str
    encounter: str
    signed_by: str
    status: str
    wires: tuple[str, ...]
    other_lines: int


@dataclass(frozen=True, slots=True)
class Evidence:
    """One entry a flag rests on."""

    id: str
    words: str
    who: str
    utc: str


@dataclass(frozen=True, slots=True)
class Why:
    """Why a flag stands. `policy`: a site's decision it still waits for, or ""."""

    flag: Flag
    basis: str
    confirmed: str
    policy: str
    evidence: tuple[Evidence, ...]
    questions: tuple[Question, ...]


def heading(found: OpenRecord, sheet: Sheet, fixed: Signed | None) -> Heading:
    """Return the head of one record's page."""
    case = sheet.case
    names = fixed.names if fixed else {}
    return Heading(
        found.id[-4:].upper(),
        who_words(case),
        _told(case, "patient.record_number"),
        _told(case, "patient.encounter_number"),
        ", ".join(f"{name} ({meaning})" for meaning, name in names.items()),
        _status(sheet),
        tuple(_wire(case, wire.id, wire.name) for wire in case.wires),
        len(case.rows(OTHER_LINE)),
    )


def whys(
    margin: Margin, sheet: Sheet, judge: Judge, questions: Mapping[str, Question]
) -> tuple[Why, ...]:
    """Return the drawer of each flag, in the order of the flags."""
    return tuple(
        Why(
            flag,
            say(f"coding.basis.{flag.finding.rule.basis}"),
            _confirmed(flag.finding.rule),
            _policy(flag.finding, judge),
            tuple(evidence(sheet.case, i) for i in flag.finding.evidence),
            tuple(questions[name] for name in flag.finding.questions),
        )
        for flag in margin.flags
    )


def evidence(case: Case, entry_id: str) -> Evidence:
    """Return one entry in words, with its author and time."""
    meta = case.meta(entry_id)
    person = meta["called_by"] or meta["author"]
    value = apart(_value(case, meta["path"], entry_id))
    told = f"{_label(meta['path'])}: {value}"
    key = f"coding.source.{meta['source']}"
    who = say_apart(key, who=person.get("name", ""))
    return Evidence(entry_id, told, who, meta["at"]["utc"])


def _value(case: Case, path: str, entry_id: str) -> str:
    field = CATALOGUE.field(path)
    for row in case.rows(path):
        if row.id == entry_id and field is not None:
            return row_words(row, field, apart)
    for head in case.fold["values"].get(path, []):
        if entry_id in head["entries"] and field is not None:
            return words(field, head["value"], beside=apart)
    return ""


def _label(path: str) -> str:
    field = CATALOGUE.field(path)
    return field.label if field else path


def _confirmed(rule: Rule) -> str:
    if rule.confirmed_on is None:
        return say("coding.confirmed_by", who=rule.confirmed_by)
    day = f"{rule.confirmed_on.day} {rule.confirmed_on:%b %Y}"
    return say("coding.confirmed_on", who=rule.confirmed_by, day=day)


def _policy(finding: Finding, judge: Judge) -> str:
    path = finding.rule.policy
    is_open = bool(path) and not judge.site.policy(path)
    return say("coding.policy") if is_open and finding.state != "not_offered" else ""


def _status(sheet: Sheet) -> str:
    status, place = sheet.case.words(STATUS), sheet.place_of_service
    return say("coding.status_place", status=status, place=place) if place else status


def _wire(case: Case, wire: str, name: str) -> str:
    told = [name]
    for path in ("approach.chamber", "approach.wire_came"):
        answer = case.answer(case.wire_path(wire, path))
        label = f"{_label(path).lower()} " if not answer.is_answered else ""
        told.append(f"{label}{answer.words}")
    return ", ".join(told)


def _told(case: Case, path: str) -> str:
    answer = case.answer(path)
    return answer.words if answer.heads else ""
