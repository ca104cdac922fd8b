"""Who signed a record, and which of it lies on one disk only."""

from __future__ import annotations

from dataclasses import dataclass

from webapp.catalogue.lookup import ATTESTATIONS
from webapp.record.open_record import OpenRecord


@dataclass(frozen=True, slots=True)
class Signature:
    """One signature. `is_copied`: whether a backup off this machine holds it."""

    name: str
    utc: str
    is_copied: bool


def signatures(found: OpenRecord, copied_upto: int) -> list[Signature]:
    """Return the signatures of a record, oldest first.

    `copied_upto`: the position up to which a backup off this machine holds the log.
    """
    places = {entry.header.id: entry.position for entry in found.logged}
    told: list[Signature] = []
    for row in found.case.rows(ATTESTATIONS):
        by, at = row.get("by"), found.case.meta(row.id)["at"]
        name = str(by.get("name") or "") if isinstance(by, dict) else ""
        told.append(Signature(name, at["utc"], places[row.id] <= copied_upto))
    return told
