"""The numbers of page 1, one set a wire, each with its time and where it is from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from webapp.catalogue.words import words
from webapp.note.casewords import cell, code_of, row_time, sentence, told
from webapp.note.figures_amount import amount_of
from webapp.note.threshold import WireTests
from webapp.note.times import clock_words, day_words, entry_time
from webapp.record.case import Answer, Case, Row, Wire
from webapp.say import say

UNSAID = "–"


@dataclass(frozen=True, slots=True)
class Figure:
    """A number as far as it is known. `amount` is "–" or words where it is not."""

    label: str
    amount: str
    unit: str
    note: str


def figures(case: Case, wire: Wire, tests: WireTests, day: str) -> tuple[Figure, ...]:
    """Return depth, threshold, output left at, and rate, for one wire."""
    left_at = settings_row(case, wire, tests.left_at)
    return (
        _depth(case, wire, day),
        _threshold(tests),
        _output(left_at, tests, day),
        _rate(left_at, day),
    )


def settings_row(case: Case, wire: Wire, left_at: str) -> Row | None:
    """Return the settings the margin was computed with, else the last read back."""
    paths = [
        case.wire_path(wire, f"{part}.dial_left_at") for part in ("capture", "checks")
    ]
    rows = [row for path in paths for row in case.rows(path)]
    named = [row for row in rows if row.id == left_at]
    found = named or rows
    return found[-1] if found else None


def _depth(case: Case, wire: Wire, day: str) -> Figure:
    path = case.wire_path(wire, "advance.final_depth")
    answer = case.answer(path)
    read_at = code_of(case.answer(case.wire_path(wire, "advance.final_read_at")).value)
    at = read_at if read_at in ("sleeve_lock", "skin") else "sheath_hub"
    label = say(f"note.figure.depth.{at}")
    if answer.entries and answer.state == "answered":
        label = say("note.figure.at", label=label, time=_entered(case, answer, day))
    site = told(case, case.wire_path(wire, "approach.site"), day)
    how_path = case.wire_path(wire, "advance.final_read_how")
    how = told(case, how_path, day) if case.answer(how_path).heads else ""
    if answer.state == "answered":
        amount, unit = amount_of(answer.value)
        note = sentence([site, how])
        if amount:
            return Figure(label, amount, unit, note)
        return Figure(label, answer.words, "", note)
    if answer.state == "two_answers":
        both = [amount_of(v) for v in answer.heads]
        amount = say("note.or").join(a or UNSAID for a, _ in both)
        return Figure(label, amount, both[0][1], say("note.two_answers"))
    if answer.state == "impossible":
        note = say("note.impossible_as", value=answer.words)
        return Figure(label, UNSAID, "", note)
    return Figure(label, UNSAID, "", _last_depth(case, wire, answer.words, day))


def _entered(case: Case, answer: Answer, day: str) -> str:
    """Return when an answer was given, with the day when it is not the case's."""
    moment = entry_time(case.meta(answer.entries[0]))
    if moment is None:
        return say("note.no_time")
    on_day = moment.date().isoformat() == day
    return (
        clock_words(moment) if on_day else f"{day_words(moment)} {clock_words(moment)}"
    )


def _last_depth(case: Case, wire: Wire, state: str, day: str) -> str:
    rows = case.rows(case.wire_path(wire, "advance.depth_reading"))
    read = [r for r in rows if cell(r, "depth", day)]
    if not read:
        return state
    last = read[-1]
    return say(
        "note.last_depth",
        state=state,
        depth=cell(last, "depth", day),
        time=row_time(last, day),
    )


def _threshold(tests: WireTests) -> Figure:
    label = say("note.figure.threshold")
    if tests.when:
        label = say("note.figure.at", label=label, time=tests.when)
    return Figure(label, tests.amount or UNSAID, tests.unit, tests.note)


def _output(row: Row | None, tests: WireTests, day: str) -> Figure:
    if row is None:
        return Figure(say("note.figure.dial"), UNSAID, "", say("words.not_asked"))
    is_read = _is_person(row.get("read_back_by"))
    key = "note.figure.dial_read_at" if is_read else "note.figure.dial_at"
    in_volts = "output" not in row.value and "output_v" in row.value
    child = "output_v" if in_volts else "output"
    amount, unit = amount_of(row.get(child))
    if amount and row.id == tests.left_at:
        amount = tests.left_at_shown or amount
    beside = cell(row, "pulse_width", day) if in_volts else ""
    if not amount:
        beside = cell(row, child, day) or say("words.not_asked")
    note = sentence([beside, tests.margin_words])
    return Figure(say(key, time=row_time(row, day)), amount or UNSAID, unit, note)


def _is_person(value: Any) -> bool:
    return isinstance(value, dict) and bool(value.get("name"))


def _rate(row: Row | None, day: str) -> Figure:
    if row is None:
        return Figure(say("note.figure.rate"), UNSAID, "", say("words.not_asked"))
    label = say("note.figure.rate_at", time=row_time(row, day))
    amount, unit = amount_of(row.get("rate"))
    sensing = cell(row, "sensitivity", day)
    if row.get("asynchronous") == "yes":
        sensing_words = say("note.asynchronous")
    else:
        sensing_words = say("note.sensitivity", value=sensing) if sensing else ""
    field = row.field.child("mode") if row.field else None
    mode = words(field, row.value["mode"]) if field and "mode" in row.value else ""
    missing = "" if amount else cell(row, "rate", day) or say("words.not_asked")
    return Figure(
        label, amount or UNSAID, unit, sentence([missing, mode, sensing_words])
    )
