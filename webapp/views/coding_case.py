"""What a coder reads of a signed record: the note, with what was added and signed for.

The note keeps its bytes for ever; a late entry that an addendum took up is signed for
by the addendum's author, so it changes the codes. Other late entries do not.
"""

from __future__ import annotations

from dataclasses import dataclass

from webapp.catalogue import CATALOGUE
from webapp.coding.sheet import Sheet
from webapp.record.addenda import taken_up
from webapp.record.case import Case
from webapp.record.fold import fold
from webapp.record.open_record import OpenRecord, opened_entry
from webapp.record.signed import Signed, signed
from webapp.views.code_facts import site_judge


@dataclass(frozen=True, slots=True)
class Coded:
    """A record as it is coded. `signed`: None while only a draft can be looked at."""

    signed: Signed | None
    sheet: Sheet


def coded(found: OpenRecord) -> Coded:
    """Return what a record gives: as signed and added to, else as a draft."""
    fixed = signed(found)
    if fixed is None:
        return Coded(None, site_judge().sheet(found.case))
    added = taken_up(found.case) - fixed.covered
    if not added:
        return Coded(fixed, site_judge().sheet(fixed.case, fixed.covered))
    ids = fixed.covered | added
    told = [opened_entry(e) for e in found.counted if e.header.id in ids]
    case = Case(fold([o for o in told if o is not None]), CATALOGUE)
    return Coded(fixed, site_judge().sheet(case, ids))
