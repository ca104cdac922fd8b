"""A group's rows as one table: only the columns that hold something."""

from __future__ import annotations

from webapp.catalogue.model import Field
from webapp.catalogue.words import words
from webapp.clinical.mean_pressure import UNIT, mean_pressure
from webapp.note.blocks import Rows, Said
from webapp.note.casewords import value_words
from webapp.note.names_of_tests import row_names
from webapp.note.sources import Sources
from webapp.record.case import Row, state_of
from webapp.say import say

EVENT, SYSTOLIC, DIASTOLIC = "moment", "systolic", "diastolic"


def rows_block(
    sources: Sources,
    field: Field,
    path: str,
    elsewhere: frozenset[str] = frozenset(),
) -> Rows:
    """Return the standing rows of a group; struck ones are listed elsewhere.

    `elsewhere`: ids of rows that stand in another place.
    """
    case, day = sources.case, sources.day
    rows = [row for row in case.rows(path) if row.id not in elsewhere]
    shown = [c for c in _ordered(field) if any(c.name in r.value for r in rows)]
    belongs = _names_of_parents(sources, field, path) if field.row_of else {}
    # Computed, and named so: there is no field of it that somebody answered.
    mean_of = [c for c in shown if c.name == SYSTOLIC and _has_mean(rows)]
    columns = [c.label for c in shown] + [say("note.column.mean")] * len(mean_of)
    columns.append(say("note.column.entered"))
    if belongs:
        columns.insert(0, say("note.column.belongs_to"))
    told = []
    for row in rows:
        cells = [_cell(c, row, day) for c in shown]
        cells += [Said(_mean(row, child, day)) for child in mean_of]
        cells.append(Said(sources.entered(row.id)))
        if belongs:
            of = str(row.value.get("of", ""))
            cells.insert(0, Said(belongs.get(of, say("note.unknown_parent"))))
        told.append(tuple(cells))
    return Rows(field.label, tuple(columns), tuple(told))


def _ordered(field: Field) -> list[Field]:
    """Return the children with the event's own moment first."""
    first = [c for c in field.children if c.name == EVENT]
    return first + [c for c in field.children if c.name != EVENT]


def _cell(child: Field, row: Row, day: str) -> Said:
    if child.name not in row.value:
        return Said("")
    value = row.value[child.name]
    state = state_of(child, value)
    if state == "impossible":
        return Said(value_words(child, value, day), mark="impossible")
    is_absent = state in ("not_known", "not_done", "not_asked")
    return Said(value_words(child, value, day), mark="absent" if is_absent else "")


def _mean_of(row: Row) -> str | None:
    return mean_pressure(row.value.get(SYSTOLIC), row.value.get(DIASTOLIC))


def _has_mean(rows: list[Row]) -> bool:
    return any(_mean_of(row) is not None for row in rows)


def _mean(row: Row, systolic: Field, day: str) -> str:
    """Return the mean pressure of a row in the unit of its field, "" without one."""
    mean = _mean_of(row)
    if mean is None:
        return ""
    return value_words(systolic, {"as": mean, "n": mean, "unit": UNIT}, day)


def _names_of_parents(sources: Sources, field: Field, path: str) -> dict[str, str]:
    """Return entry id of each parent row -> its name."""
    prefix = path[: len(path) - len(path.split("/")[-1])]
    return row_names(sources, prefix + field.row_of)


def row_words(field: Field, row: Row, day: str) -> str:
    """Return a whole row in one line, for the list of what was struck."""
    told = [
        say("words.row_child", label=c.label, words=words(c, row.value[c.name], day))
        for c in _ordered(field)
        if c.name in row.value
    ]
    return "; ".join(told)
