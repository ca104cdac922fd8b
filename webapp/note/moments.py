"""Every moment of the record in one list, in the order of the clock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from webapp.catalogue.words import words
from webapp.note.casewords import cell
from webapp.record.case import Case
from webapp.record.fold import corrected_ms
from webapp.record.questions import places
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Happened:
    """A named moment; `ms` orders it, and is None for a day or an unreadable one."""

    label: str
    words: str
    ms: int | None

    @property
    def told(self) -> str:
        """Return label and time, "first puncture 10:33"."""
        return say("note.happened", label=self.label, time=self.words)


def happened(case: Case, day: str) -> list[Happened]:
    """Return the moments with a clock time in order, then those without."""
    found = [*_named(case, day), *_fields(case, day)]
    timed = [h for h in found if h.ms is not None]
    timed.sort(key=lambda h: (h.ms or 0, h.label))
    return timed + [h for h in found if h.ms is None]


def _named(case: Case, day: str) -> Iterator[Happened]:
    for row in case.rows("moments"):
        if "moment" in row.value:
            ms = _ms(row.value["moment"])
            yield Happened(cell(row, "name", day), cell(row, "moment", day), ms)


def _fields(case: Case, day: str) -> Iterator[Happened]:
    for part in case.catalogue.parts:
        for path, field, wire in places(case, part):
            if field.kind != "moment":
                continue
            for head in case.fold["values"].get(path, []):
                if not isinstance(head["value"], dict) or "absent" in head["value"]:
                    continue
                several = wire is not None and len(case.wires) > 1
                label = (
                    f"{field.label}, {wire.name}" if wire and several else field.label
                )
                ms = _ms(head["value"])
                yield Happened(label, words(field, head["value"], day), ms)


def _ms(value: Any) -> int | None:
    if not isinstance(value, dict) or "utc" not in value:
        return None
    return corrected_ms({"utc": value["utc"]}) or None
