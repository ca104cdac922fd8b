"""What every page reads from: the case, its day, and the hospital's limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from webapp.clinical.policy import Policy
from webapp.note.casewords import main_day
from webapp.note.initials import initials_of
from webapp.note.model import NotePhoto
from webapp.note.photos import Photographed, photographed
from webapp.note.times import who_when
from webapp.record.case import Case
from webapp.record.remarked import Remarked, remarked
from webapp.say import say


@dataclass(frozen=True, slots=True)
class Sources:
    """`day`: ISO day of the first entry, told without a date; "" when empty.

    `places`: entry id -> its number in the record's order, from 1; `remarks`:
    heavier first.
    """

    case: Case
    day: str
    policy: Policy
    initials: dict[str, str]
    places: Mapping[str, int]
    photos: Photographed = field(default_factory=lambda: Photographed({}, {}))
    remarks: tuple[Remarked, ...] = ()

    def entered(self, entry_id: str) -> str:
        """Return who made an entry when, in initials, and its number."""
        meta = self.case.fold["entries"].get(entry_id)
        if meta is None:
            return ""
        who = who_when(meta, self.day, self.initials)
        return say("note.entry", who=who, n=self.places[entry_id])

    def entered_by_name(self, entry_id: str) -> str:
        """Return the same with names in full, for page 1."""
        return who_when(self.case.meta(entry_id), self.day)


def sources_of(
    case: Case,
    policy: Policy,
    shown: Mapping[tuple[str, str], NotePhoto] | None = None,
) -> Sources:
    """Return everything the pages read, worked out once."""
    places = {entry_id: n for n, entry_id in enumerate(case.fold["order"], start=1)}
    photos = photographed(case, shown or {})
    return Sources(
        case,
        main_day(case),
        policy,
        initials_of(case.fold),
        places,
        photos,
        remarked(case, policy),
    )
