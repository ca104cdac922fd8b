"""Short readings of a case in words, shared by the pages of the note."""

from __future__ import annotations

from typing import Any

from webapp.catalogue.model import Field
from webapp.catalogue.words import words
from webapp.note.times import clock_words, day_words, entry_time
from webapp.record.case import Case, Row
from webapp.say import say

# A dot never begins a line: the space before it does not break.
SEPARATOR = "\u00a0· "


def told(case: Case, path: str, day: str) -> str:
    """Return a path's answer in words; two answers joined by "or", marks said."""
    answer = case.answer(path)
    if answer.field is None or not answer.heads:
        return answer.words
    said = [in_sentence(answer.field, value, day) for value in answer.heads]
    if answer.state == "impossible":
        return say("note.impossible_as", value=said[0])
    return say("note.or").join(said)


def cell(row: Row, child: str, day: str) -> str:
    """Return a child of a row in words, "" when the row does not hold it."""
    if child not in row.value or row.field is None:
        return ""
    field = row.field.child(child)
    return in_sentence(field, row.value[child], day) if field else ""


def in_sentence(field: Field, value: Any, day: str) -> str:
    """Return a value as it stands within a sentence: "internal jugular, right".

    Only our own labels change their first letter; what a person typed never does.
    """
    if field.kind == "one" and isinstance(value, str):
        return lowered(words(field, value, day))
    if field.kind == "many" and isinstance(value, list):
        told_words = (words(field, [pick], day) for pick in value)
        said = [
            lowered(told) if isinstance(pick, str) else told
            for pick, told in zip(value, told_words, strict=True)
        ]
        return ("; " if any("," in one for one in said) else ", ").join(said)
    if field.kind == "person" and isinstance(value, dict) and value.get("name"):
        return words(field, {**value, "role": ""}, day)
    return value_words(field, value, day)


def value_words(field: Field, value: Any, day: str) -> str:
    """Return a value in words; a number and its unit are held on one line."""
    told = words(field, value, day)
    is_number = field.kind == "qty" and isinstance(value, dict) and "unit" in value
    if is_number and ("n" in value or "low" in value):
        return told.replace(" ", "\u00a0")
    return told


def lowered(label: str) -> str:
    """Return a label with a small first letter, unless it begins an abbreviation."""
    is_word = len(label) > 1 and label[1].islower()
    return label[0].lower() + label[1:] if is_word else label


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
    if moment is None:
        return ""
    on_day = moment.date().isoformat() == day
    return (
        clock_words(moment) if on_day else f"{day_words(moment)} {clock_words(moment)}"
    )


def sentence(parts: list[str]) -> str:
    """Join the parts that hold something with commas."""
    return ", ".join(p for p in parts if p)


def code_of(value: Any) -> str:
    """Return a choice's code, also for one with its own text."""
    if isinstance(value, dict) and len(value) == 1:
        return str(next(iter(value)))
    return value if isinstance(value, str) else ""
