"""Page 1 as data: who, the numbers, the state on leaving, and what is missing."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.catalogue.words import day_words
from webapp.note.before import before_wire
from webapp.note.casewords import cell, row_time, sentence, told
from webapp.note.complications import complications
from webapp.note.figures import Figure, figures
from webapp.note.gaps import Gaps, gaps
from webapp.note.lie import wire_lie
from webapp.note.moments import Happened, happened
from webapp.note.remarks import FirstRemarks, first_remarks
from webapp.note.ruler import WireLie
from webapp.note.sources import Sources
from webapp.note.state import Lines, state_lines
from webapp.note.threshold import DrawnTest, wire_tests
from webapp.record.case import Case, Wire
from webapp.say import say

WIRES_SHOWN = 3
IN_PLACE = ("capturing_wire_in", "not_capturing_wire_in", "standby_wire_in",
            "given_up_cannot_remove")  # fmt: skip


@dataclass(frozen=True, slots=True)
class WireSummary:
    """One wire on page 1: its name (said only when there are several)."""

    name: str
    figures: tuple[Figure, ...]
    lie: WireLie
    tests: tuple[DrawnTest, ...]
    state: Lines


@dataclass(frozen=True, slots=True)
class Summary:
    """What page 1 says, in the order it says it."""

    title: str
    line: str
    as_at: str
    wires: tuple[WireSummary, ...]
    earlier_wires: int
    no_wire_state: Lines
    complications: tuple[str, ...]
    consent: str
    plan: Lines
    in_place: bool
    later: tuple[str, ...]
    before: tuple[str, ...]
    times: tuple[Happened, ...]
    gaps: Gaps
    remarks: FirstRemarks


def summary(sources: Sources) -> Summary:
    """Return page 1 of a case; nothing in it is guessed or completed."""
    case, day = sources.case, sources.day
    shown = case.wires[-WIRES_SHOWN:]
    return Summary(
        title=_title(day),
        line=_line(case, day),
        as_at=_as_at(case, day),
        wires=tuple(_wire(sources, wire) for wire in shown),
        earlier_wires=len(case.wires) - len(shown),
        no_wire_state=() if shown else state_lines(case, None, day),
        complications=complications(case, day),
        consent=consent(case, day),
        plan=_plan(case, day),
        in_place=_is_in_place(case),
        later=_later(case, day),
        before=before_wire(case, day),
        times=tuple(happened(case, day)),
        gaps=gaps(sources),
        remarks=first_remarks(sources),
    )


def _wire(sources: Sources, wire: Wire) -> WireSummary:
    case, day = sources.case, sources.day
    tests = wire_tests(sources, wire)
    return WireSummary(
        wire.name if len(case.wires) > 1 else "",
        figures(case, wire, tests, day),
        wire_lie(case, wire, day),
        tests.tests,
        state_lines(case, wire, day),
    )


def _title(day: str) -> str:
    if not day:
        return say("note.title")
    return say("note.title_day", day=day_words(day))


def _line(case: Case, day: str) -> str:
    """Return rhythm, what it does, cause, urgency and outcome, as stated."""
    asked = ("main_rhythm", "compromise", "urgency")
    parts = []
    if any(case.answer(f"indication.{name}").heads for name in asked):
        parts.append(say("note.rhythm", words=case.words("indication.main_rhythm")))
        for name in asked[1:]:
            words = told(case, f"indication.{name}", day)
            parts.append(say(f"note.{name}", words=words))
    else:
        parts.append(say("note.indication_not_asked"))
    cause = _cause(case, day)
    parts += [cause] if cause else []
    parts.append(say("note.outcome", words=told(case, "finish.outcome", day)))
    return " ".join(parts)


def _cause(case: Case, day: str) -> str:
    causes = [
        sentence([cell(r, "cause", day), cell(r, "certainty", day)])
        for r in case.rows("indication.cause")
    ]
    found = "; ".join(c for c in causes if c)
    return say("note.cause", words=found) if found else ""


def _as_at(case: Case, day: str) -> str:
    """Return when the state on leaving was: handed over, else the last settings."""
    received = case.answer("finish.received_at")
    if received.is_answered:
        return told(case, "finish.received_at", day)
    rows = [
        r
        for w in case.wires
        for r in case.rows(case.wire_path(w, "capture.dial_left_at"))
    ]
    return row_time(rows[-1], day) if rows else ""


def consent(case: Case, day: str) -> str:
    """Return the basis of consent and what it rests on, as recorded."""
    basis = case.words("consent.basis")
    extras = [
        ("consent.capacity", ""),
        ("consent.surrogate_name", "note.consent.surrogate"),
        ("consent.surrogate_relation", ""),
        ("consent.threat", "note.consent.threat"),
        ("consent.who_sought", "note.consent.sought"),
        ("consent.sought_at", ""),
        ("consent.known_refusal", "note.consent.refusal"),
        ("consent.second_clinician", "note.consent.second"),
        ("consent.refusal", "note.consent.refused"),
    ]
    said = [basis]
    for path, key in extras:
        if case.answer(path).heads:
            words = told(case, path, day)
            said.append(say(key, words=words) if key else words)
    return "; ".join(said)


def _plan(case: Case, day: str) -> Lines:
    paths = ("check_interval", "call_limits", "call_whom", "target_rate",
             "removal_plan", "restrictions")  # fmt: skip
    lines = []
    for name in paths:
        answer = case.answer(f"finish.{name}")
        if answer.heads and answer.field:
            lines.append((answer.field.label, told(case, answer.path, day)))
    return tuple(lines)


def _is_in_place(case: Case) -> bool:
    """Return whether the record says a wire stayed, and none says it left."""
    stayed = case.answer("finish.outcome").value in IN_PLACE
    gone = any(
        case.answer(case.wire_path(w, "removal.removed_at")).is_answered
        for w in case.wires
    )
    return stayed and not gone


def _later(case: Case, day: str) -> tuple[str, ...]:
    """Return what came after: pacing checks, removal, ending; one line each."""
    found = []
    for wire in case.wires:
        name = f"{wire.name}: " if len(case.wires) > 1 else ""
        checks = case.rows(case.wire_path(wire, "checks.check"))
        if checks:
            last = row_time(checks[-1], day)
            found.append(name + say("note.checks", n=len(checks), last=last))
        for path in ("removal.removed_at", "removal.ending"):
            answer = case.answer(case.wire_path(wire, path))
            if answer.heads and answer.field:
                words = told(case, answer.path, day)
                label = answer.field.label
                found.append(name + say("words.row_child", label=label, words=words))
    return tuple(found)
