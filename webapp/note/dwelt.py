"""How long a wire lay, in print: computed, and named so."""

from __future__ import annotations

from webapp.clinical.dwell import dwell
from webapp.note.blocks import Line, Said
from webapp.record.case import Case, Wire
from webapp.say import say


def dwelt(case: Case, wire: Wire) -> list[Line]:
    """Return one line, or none where either end is not known."""
    found = dwell(case.fold, wire.id)
    if found is None:
        return []
    if found.hours is not None:
        told = say("note.dwell_hours", n=str(found.hours))
    elif not found.days:
        told = say("note.dwell_same_day")
    elif found.days == 1:
        told = say("note.dwell_day")
    else:
        told = say("note.dwell_days", n=str(found.days))
    is_counted = found.hours is not None or bool(found.days)
    if found.is_about and is_counted:
        told = say("note.dwell_about", told=told)
    return [Line(say("note.dwell"), (Said(told),))]
