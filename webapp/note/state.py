"""How the patient left the procedure, in lines; what was not asked says so."""

from __future__ import annotations

from webapp.note.casewords import cell, code_of, lowered, row_time, sentence, told
from webapp.record.case import Case, Row, Wire
from webapp.say import say

Lines = tuple[tuple[str, str], ...]


def state_lines(case: Case, wire: Wire | None, day: str) -> Lines:
    """Return (label, words) for what a receiver looks for first."""
    return (
        (say("note.state.own_rhythm"), _own_rhythm(case, wire, day)),
        (say("note.state.capture"), _capture(case, wire, day)),
        (say("note.state.tip"), _tip(case, day)),
        (say("note.state.balloon"), _balloon(case, day)),
        (say("note.state.secured"), _secured(case)),
        (say("note.state.pads"), _pads(case, day)),
        (say("note.state.left"), _left(case, day)),
    )


def _own_rhythm(case: Case, wire: Wire | None, day: str) -> str:
    rows = case.rows("indication.own_rhythm")
    if wire:
        rows = case.rows(case.wire_path(wire, "capture.own_rhythm")) or rows
    if not rows:
        return told(case, "indication.own_rhythm", day)
    row = rows[-1]
    rate, rhythm = cell(row, "rate", day), cell(row, "rhythm", day)
    result = "" if code_of(row.get("result")) == "rhythm" else cell(row, "result", day)
    because = cell(row, "because", day) or cell(row, "symptoms", day)
    lowest = cell(row, "lowest_rate", day)
    tolerated = row.get("tolerated")
    return sentence(
        [
            result,
            because,
            rhythm,
            rate,
            say("note.turned_down_to", rate=lowest) if lowest else "",
            say(f"note.tolerated.{tolerated}") if tolerated in ("yes", "no") else "",
            row_time(row, day),
        ]
    )


def _capture(case: Case, wire: Wire | None, day: str) -> str:
    if wire is None:
        return say("words.not_asked")
    electrical = told(case, case.wire_path(wire, "capture.electrical_capture"), day)
    signs = told(case, case.wire_path(wire, "capture.mechanical_capture"), day)
    paths = ("capture.electrical_capture", "capture.mechanical_capture",
             "capture.mechanical_rate")  # fmt: skip
    if not any(case.answer(case.wire_path(wire, p)).heads for p in paths):
        return say("words.not_asked")
    rate = case.answer(case.wire_path(wire, "capture.mechanical_rate"))
    counted = say("note.counted", rate=rate.words) if rate.heads else ""
    return sentence(
        [
            say("note.electrical", words=electrical),
            say("note.mechanical", words=signs),
            counted,
        ]
    )


def _tip(case: Case, day: str) -> str:
    ecg = [_ecg(row, day) for row in case.rows("finish.paced_ecg")]
    images = [_image(row, day) for row in case.rows("finish.imaging")]
    found = "; ".join(x for x in [*ecg, *images] if x)
    if found:
        return found
    absent = [
        told(case, path, day)
        for path in ("finish.paced_ecg", "finish.imaging")
        if case.answer(path).heads
    ]
    return "; ".join(absent) or say("words.not_asked")


def _ecg(row: Row, day: str) -> str:
    axis = cell(row, "axis", day)
    return sentence(
        [
            say("note.paced_ecg", pattern=cell(row, "pattern", day) or "–"),
            say("note.axis", axis=axis) if axis else "",
            row_time(row, day),
        ]
    )


def _image(row: Row, day: str) -> str:
    by = cell(row, "reported_by", day)
    return sentence(
        [
            sentence([cell(row, "kind", day), cell(row, "state", day)]),
            by,
            cell(row, "tip", day),
            row_time(row, day),
        ]
    )


def _balloon(case: Case, day: str) -> str:
    end = told(case, "finish.balloon_at_end", day)
    left = case.answer("finish.balloon_left_ml")
    syringe = told(case, "finish.balloon_syringe", day)
    has_syringe = case.answer("finish.balloon_syringe").heads
    return sentence(
        [
            end,
            left.words if left.heads else "",
            say("note.syringe", words=syringe) if has_syringe else "",
        ]
    )


def _secured(case: Case) -> str:
    """Return what was answered yes and what no; a line not asked is not listed."""
    names = ("suture", "sleeve_locked", "dressing", "generator_fixed",
             "settings_locked", "fresh_battery", "spare_battery")  # fmt: skip
    done, not_done = [], []
    for name in names:
        answer = case.answer(f"finish.secured_{name}")
        if not answer.heads or answer.field is None:
            continue
        label = lowered(answer.field.label)
        if answer.value == "yes":
            done.append(label)
        else:
            not_done.append(say("words.row_child", label=label, words=answer.words))
    return sentence([*done, *not_done]) or say("words.not_asked")


def _pads(case: Case, day: str) -> str:
    at_end = case.answer("finish.pads_left")
    if at_end.heads:
        return told(case, "finish.pads_left", day)
    rows = case.rows("indication.pads")
    if rows:
        return sentence([cell(rows[-1], "state", day), row_time(rows[-1], day)])
    return at_end.words


def _left(case: Case, day: str) -> str:
    said = [
        told(case, f"finish.{name}", day)
        for name in ("condition", "destination")
        if case.answer(f"finish.{name}").heads
    ]
    for name in ("received_by", "handed_to"):
        if case.answer(f"finish.{name}").heads:
            words = told(case, f"finish.{name}", day)
            said.append(say(f"note.{name}", words=words))
            break
    if case.answer("finish.received_at").heads:
        said.append(told(case, "finish.received_at", day))
    return sentence(said) or say("words.not_asked")
