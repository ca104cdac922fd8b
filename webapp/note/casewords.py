"""Short readings of a case in words, shared by the pages of the note."""

from __future__ import annotations

from typing import Any

from webapp.catalogue.words import words
from webapp.note.times import entry_time, who_when
from webapp.record.case import Case, Row
from webapp.say import say


def told(case: Case, path: str, day: str) -> str:
    """Return a path's answer in words; two answers joined by "or", marks said."""
    answer = case.answer(path)
    if answer.field is None or not answer.heads:
        return answer.words
    said = [words(answer.field, value, day) for value in answer.heads]
    if answer.state == "impossible":
        return say("note.impossible_as", value=said[0])
    return say("note.or").join(said)


def cell(row: Row, child: str, day: str) -> str:
    """Return a child of a row in words, "" when the row does not hold it."""
    if child not in row.value or row.field is None:
        return ""
    field = row.field.child(child)
    return words(field, row.value[child], day) if field else ""


def main_day(case: Case) -> str:
    """Return the ISO day of the record's first entry, "" for an empty record."""
    for entry_id in case.fold["order"]:
        moment = entry_time(case.meta(entry_id))
        if moment is not None:
            return moment.date().isoformat()
    return ""


def row_time(row: Row, day: str) -> str:
    """Return when a row's event was: its own moment, else when it was entered."""
    own = cell(row, "moment", day)
    if own:
        return own
    moment = entry_time(row.meta)
    return moment.strftime("%H:%M") if moment else ""


def sentence(parts: list[str]) -> str:
    """Join the parts that hold something with commas."""
    return ", ".join(p for p in parts if p)


def code_of(value: Any) -> str:
    """Return a choice's code, also for one with its own text."""
    if isinstance(value, dict) and len(value) == 1:
        return str(next(iter(value)))
    return value if isinstance(value, str) else ""


def entered(case: Case, entry_id: str, day: str) -> str:
    """Return who made an entry when, and its number in the record's order."""
    entries = case.fold["entries"]
    if entry_id not in entries:
        return ""
    number = case.fold["order"].index(entry_id) + 1
    return say("note.entry", who=who_when(entries[entry_id], day), n=number)
