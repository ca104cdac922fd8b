"""What was done before the wire: drugs, skin pacing, and whether it captured."""

from __future__ import annotations

from webapp.note.casewords import cell, lowered, row_time, sentence
from webapp.note.times import name_of
from webapp.record.case import Case, Row
from webapp.say import say

SPELL = "indication.skin_pacing"


def before_wire(case: Case, day: str) -> tuple[str, ...]:
    """Return one line for the drugs and one for each spell of skin pacing.

    Capture readings that contradict each other both stand, each with its person.
    """
    drugs = [_drug(row, day) for row in case.rows("indication.drugs_given")]
    lines = ["; ".join(drugs)] if drugs else []
    readings = case.rows(f"{SPELL}_reading")
    for row in case.rows(SPELL):
        own = [_reading(r, day) for r in readings if r.get("of") == row.id]
        lines.append("; ".join([_spell(row, day), *own]))
    return tuple(lines)


def _drug(row: Row, day: str) -> str:
    names = [cell(row, "drug", day), cell(row, "which", day)]
    effect = cell(row, "effect", day)
    return sentence(
        [
            " ".join(n for n in names if n),
            _named(row, "dose", day),
            cell(row, "route", day),
            say("note.before.effect", words=effect) if effect else "",
            row_time(row, day),
        ]
    )


def _spell(row: Row, day: str) -> str:
    return say(
        "note.before.spell",
        words=sentence(
            [
                cell(row, "state", day),
                _named(row, "rate", day),
                _named(row, "output", day),
                cell(row, "operator", day),
                cell(row, "start", day) or row_time(row, day),
            ]
        ),
    )


def _named(row: Row, child: str, day: str) -> str:
    """Return a number alone, and anything else with the name of what it is."""
    said = cell(row, child, day)
    value = row.get(child)
    field = row.field.child(child) if row.field else None
    if not said or field is None or (isinstance(value, dict) and "n" in value):
        return said
    return f"{lowered(field.label)} {said}"


def _reading(row: Row, day: str) -> str:
    by = cell(row, "by", day) or name_of(row.meta["author"])
    signs = [
        say(f"note.before.{name}", words=cell(row, name, day))
        for name in ("electrical", "mechanical")
        if name in row.value
    ]
    return sentence(
        [*signs, cell(row, "judged_how", day), _named(row, "output", day), by]
    )
