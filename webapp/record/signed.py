"""A record as its last signature fixed it: later entries are late, not part of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from webapp.catalogue import CATALOGUE
from webapp.catalogue.lookup import ATTESTATIONS
from webapp.record.addenda import about_ids, late_entries, note_state
from webapp.record.case import Case, Row
from webapp.record.fold import fold
from webapp.record.open_record import OpenRecord, opened_entry
from webapp.record.signing import late

CONFIRMING = ("operator", "supervisor")


@dataclass(frozen=True, slots=True)
class Signed:
    """What a signature covers, folded.

    `covered`: ids it covers; `signers`: account id by meaning; `names`: name by
    meaning; `late`: how many counted entries came after and stand in no addendum;
    `state`: signed, addended or withdrawn.
    """

    case: Case
    covered: frozenset[str]
    signers: Mapping[str, str]
    names: Mapping[str, str]
    late: int
    state: str


def signed(found: OpenRecord) -> Signed | None:
    """Return the record as signed, None when nobody signed it."""
    signatures = [
        row for row in found.case.rows(ATTESTATIONS) if row.get("meaning") in CONFIRMING
    ]
    if not signatures:
        return None
    about = about_ids(found.case)
    late_ones = late(found.logged, about, signatures[-1].value)
    after = {entry.header.id for entry in late_ones} | about
    covered = [e for e in found.counted if e.header.id not in after]
    opened = [o for o in map(opened_entry, covered) if o is not None]
    return Signed(
        Case(fold(opened), CATALOGUE),
        frozenset(o.id for o in opened),
        {str(row.get("meaning")): _signer(row, "person") for row in signatures},
        {str(row.get("meaning")): _signer(row, "name") for row in signatures},
        len(late_entries(found)),
        note_state(found.case),
    )


def _signer(row: Row, what: str) -> str:
    by = row.get("by")
    return str(by.get(what) or "") if isinstance(by, dict) else ""
